// One multigrid cycle as approximate inverse of the five-point operator of diffusion.h with D >= 0
// added to its diagonal.
//
// The grids are strongly stretched both ways and conductivities jump by 10^4 at contacts, so the
// cycle relaxes whole columns at a time (zebra order, exact tridiagonal solves along z) and
// coarsens along r only: whatever couples strongly along z is solved by the lines, whatever couples
// strongly along r by the coarser grids. The coarse operator joins pairs of columns as resistors in
// series (r) and in parallel (z); values pass between grids weighted by those resistances. Pre- and
// post-relaxation run in opposite order, which keeps the cycle symmetric, as conjugate gradients
// need. The cycle runs in single precision: it only has to point conjugate gradients, which keep
// residual and answer in double, the right way. Schaffer, SIAM J. Sci. Comput. 20 (1998) 228
// (semicoarsening with line relaxation).
//
// On fine grids memory sets the pace. Each leg of the cycle therefore goes over a grid once: while
// one panel of columns takes its first step, the one before it takes the second, and so on, each
// step waiting only for its neighbours. The numbers are those of step after step over the grid.
#pragma once

#include <vector>

#include "solver/finite_volume/pair_fields.h"

namespace tabmelt {

class LineCycle {
 public:
  explicit LineCycle(const line_kernels::Kernels& kernels) : kernels_(kernels) {}

  // Takes a new shape; nothing is set up for it yet.
  void reshape(const Panels&);
  // Forms factors and coarser grids of an operator in the order of the panels.
  void set_up(const PairFields<double>&);
  bool is_set_up() const { return used_ > 0; }
  // The operator that the cycle was set up for.
  const PairFields<float>& finest() const { return levels_[0].pairs; }

  // z = approximate inverse times r, both fields in the order of the panels. Returns z . r.
  double apply(const AlignedVector<double>& r, AlignedVector<float>& z);

 private:
  void factor(LineLevel&) const;
  void coarsen(LineLevel& fine, LineLevel& coarse) const;
  // x from b, fields of this level; calls finished(p) once panel p of x is final.
  template <typename Right, typename Finished>
  void cycle(std::size_t level, const Right* b, float* x, Finished finished);

  const line_kernels::Kernels& kernels_;
  std::vector<LineLevel> levels_;
  std::size_t used_ = 0;  // levels of the present operator
};

}  // namespace tabmelt
