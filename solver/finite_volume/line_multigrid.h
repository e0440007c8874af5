// Solves (A + D) x = b for the five-point operator of diffusion.h with D >= 0 diagonal, by
// conjugate gradients with one multigrid cycle as preconditioner.
//
// The grids are strongly stretched both ways and conductivities jump by 10^4 at contacts, so the
// cycle relaxes whole columns at a time (zebra order, exact tridiagonal solves along z) and
// coarsens along r only: whatever couples strongly along z is solved by the lines, whatever couples
// strongly along r by the coarser grids. The coarse operator joins pairs of columns as resistors in
// series (r) and in parallel (z); values pass between grids weighted by those resistances. Pre- and
// post-relaxation run in opposite order, which keeps the cycle symmetric, as conjugate gradients
// need. Schaffer, SIAM J. Sci. Comput. 20 (1998) 228 (semicoarsening with line relaxation);
// Tatebe, Proc. 6th Copper Mountain Conf. (1993) 621 (multigrid preconditioned CG).
#pragma once

#include <cstddef>
#include <vector>

#include "solver/finite_volume/diffusion.h"

namespace tabmelt {

struct LinearOutcome {
  int iterations = 0;
  bool converged = false;
};

class LineMultigrid {
 public:
  // Takes the operator's values; shapes may change between calls.
  void set_operator(const FaceConductances&, const Field& diagonal);

  // Stops when max over cells of |residual| * scale <= tolerance. x holds the first guess.
  LinearOutcome solve(const Field& b, const Field& scale, double tolerance, int limit, Field& x);
  // Stops when |residual|_2 <= relative * |b|_2.
  LinearOutcome solve(const Field& b, double relative, int limit, Field& x);

 private:
  struct Level {
    std::size_t nr = 0, nz = 0;
    std::vector<double> radial, axial;    // face conductances
    std::vector<double> diagonal;         // full diagonal of A + D
    std::vector<double> extra;            // boundary and D
    std::vector<double> pivot, factor;    // tridiagonal factors along each column
    std::vector<double> self, other;      // interpolation weights of each fine column cell
    std::vector<double> b, x, r;
  };

  template <typename Stop>
  LinearOutcome conjugate_gradients(const Field& b, int limit, Field& x, Stop stop);
  void factor(Level&);
  void coarsen(Level& fine, Level& coarse);
  static void relax(Level&, std::size_t parity, bool zero_guess);
  static void residual(Level&);
  void cycle(std::size_t level);
  void precondition(const Field& r, Field& z);
  void multiply(const Field& x, Field& y) const;

  std::vector<Level> levels_;
  std::size_t used_ = 0;  // levels of the present operator
  Field r_, z_, p_, q_;
};

}  // namespace tabmelt
