// Solves (A + D) x = b for the five-point operator of diffusion.h with D >= 0 diagonal, by
// conjugate gradients with one multigrid cycle as preconditioner.
//
// The grids are strongly stretched both ways and conductivities jump by 10^4 at contacts, so the
// cycle relaxes whole columns at a time (zebra order, exact tridiagonal solves along z) and
// coarsens along r only: whatever couples strongly along z is solved by the lines, whatever couples
// strongly along r by the coarser grids. The coarse operator joins pairs of columns as resistors in
// series (r) and in parallel (z); values pass between grids weighted by those resistances. Pre- and
// post-relaxation run in opposite order, which keeps the cycle symmetric, as conjugate gradients
// need. The cycle runs in single precision: it only has to point conjugate gradients, which keep
// residual and answer in double, the right way. Schaffer, SIAM J. Sci. Comput. 20 (1998) 228
// (semicoarsening with line relaxation); Tatebe, Proc. 6th Copper Mountain Conf. (1993) 621
// (multigrid preconditioned CG).
#pragma once

#include <cstddef>
#include <vector>

#include "solver/finite_volume/diffusion.h"
#include "solver/finite_volume/line_kernels.h"

namespace tabmelt {

struct LinearOutcome {
  int iterations = 0;
  bool converged = false;
};

class LineMultigrid {
 public:
  // Takes the operator's values; shapes may change between calls.
  void set_operator(const FaceConductances&, const Field& diagonal);

  // First guess 0. Stops when max over cells of |residual| * scale <= tolerance.
  LinearOutcome solve_from_zero(const Field& b, const Field& scale, double tolerance, int limit,
                                Field& x);
  // x holds the first guess. Stops when |residual|_2 <= relative * |b|_2.
  LinearOutcome solve(const Field& b, double relative, int limit, Field& x);

 private:
  // Even and odd columns are kept apart, each row padded with zeros to a whole number of vector
  // registers, so that one colour of the zebra is a block of contiguous numbers and all its columns
  // are solved at once, several per instruction. Element j * stride + n of a block belongs to
  // column 2n (even) or 2n + 1 (odd). A field is the even block, then the odd one, with spare zeros
  // before, between and behind.
  struct Colour {
    std::vector<float> axial, extra;  // to the row above; boundary part plus D
    std::vector<float> pivot, factor;
  };
  struct Level {
    std::size_t nr = 0, nz = 0, stride = 0, block = 0;
    std::vector<float> inside;       // between the two columns of a pair
    std::vector<float> outside;      // from the odd column to the next pair's even one
    std::vector<float> self, other;  // even column's weights: own pair, pair before
    std::vector<float> b, x;         // fields (not on the finest level)
    std::vector<float> row;          // scratch
    Colour even, odd;
    void resize(std::size_t columns, std::size_t rows);
    std::size_t field_size() const { return 2 * block + 3 * line_kernels::lanes; }
    std::size_t even_at() const { return line_kernels::lanes; }
    std::size_t odd_at() const { return block + 2 * line_kernels::lanes; }
  };
  // The operator itself, in the order of the finest level.
  struct Finest {
    struct Colour {
      std::vector<double> axial, extra, diagonal;
    };
    std::vector<double> inside, outside;
    Colour even, odd;
  };

  // From x_ and its residual r_.
  template <typename Converged>
  LinearOutcome conjugate_gradients(double square, int limit, Field& x, Converged converged);
  void reserve();
  // True if the operator is close to the one that factors and coarser grids were made from.
  bool take(const FaceConductances&, const Field& diagonal);
  void factor(Level&) const;
  void coarsen(Level& fine, Level& coarse) const;
  // x from b, fields of this level, x starting at zero: the whole preconditioner.
  void cycle(std::size_t level, const float* b, float* x);
  // Between the caller's order and a field of the finest level.
  void split(const Field& natural, std::vector<double>& field) const;
  void join(const std::vector<double>& field, Field& natural) const;
  double multiply(const std::vector<double>& x, std::vector<double>& y) const;

  const line_kernels::Kernels& kernels_ = line_kernels::kernels();
  std::vector<Level> levels_;
  std::size_t used_ = 0;  // levels of the present operator
  Finest finest_;
  std::size_t finest_nr_ = 0;
  std::vector<double> x_, r_, p_, q_, scale_;
  std::vector<float> residual_, z_;
};

}  // namespace tabmelt
