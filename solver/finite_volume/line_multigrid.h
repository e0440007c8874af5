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
  // Even and odd columns are kept apart, each row padded to the same number of them, so that one
  // colour of the zebra is a block of contiguous numbers and all its columns are solved at once,
  // several per instruction. Element j * pairs + n belongs to column 2n (even) or 2n + 1 (odd).
  struct Colour {
    std::vector<double> axial;            // to the row above
    std::vector<double> diagonal, extra;  // full diagonal of A + D; its boundary part and D
    std::vector<double> pivot, factor;    // tridiagonal factors along each column
    std::vector<double> self, other;      // interpolation weights: own pair, neighbouring pair
    std::vector<double> b, x, r;          // x and r carry one spare element at each end
  };
  struct Level {
    std::size_t nr = 0, nz = 0, pairs = 0;
    std::vector<double> inside;   // between the two columns of a pair
    std::vector<double> outside;  // from the odd column to the next pair's even one
    std::vector<double> before;   // outside of the pair before; 0 at the axis
    Colour even, odd;
    void resize(std::size_t columns, std::size_t rows);
  };

  template <typename Stop>
  LinearOutcome conjugate_gradients(const Field& b, int limit, Field& x, Stop stop);
  static void factor(Level&);
  static void coarsen(Level& fine, Level& coarse);
  void cycle(std::size_t level);
  // Between the caller's order and even block, odd block.
  void split(const Field& natural, Field& coloured) const;
  void join(const Field& coloured, Field& natural) const;
  void precondition(const Field& r, Field& z);
  void multiply(const Field& x, Field& y);

  std::vector<Level> levels_;
  std::size_t used_ = 0;  // levels of the present operator
  Field b_, x_, r_, z_, p_, q_, scale_;
};

}  // namespace tabmelt
