// The inner loops of LineMultigrid over one colour of columns: plain arrays in, plain arrays out.
//
// The cycle is a preconditioner: it works in single precision, with half the memory traffic and
// twice the numbers per register. Its set-up therefore never takes a difference of nearly equal
// numbers (see factor). The operator itself and the vectors of conjugate gradients are double.
//
// Arrays hold nz rows of n numbers, n a multiple of `lanes`; what pads a row is zero in every
// conductance and every field. Neighbours of the other colour sit at the same place (`here`) and
// one place before or after it (`there`, offset -1 or +1), so fields carry `lanes` spare zeros at
// both ends. Sums are kept in several partial sums, one per lane of a vector register.
#pragma once

#include <cstddef>

namespace tabmelt::line_kernels {

constexpr std::size_t lanes = 8;

// Factors of the columns of one colour and its conductances to the other colour.
struct Lines {
  const float* pivot;
  const float* factor;
  const float* here;
  const float* there;
  std::ptrdiff_t offset;
};

// The operator of one colour in double precision.
struct Operator {
  const double* axial;
  const double* diagonal;
  const double* here;
  const double* there;
  std::ptrdiff_t offset;
};

// Conductances of one level's pairs of columns and the even columns' weights.
struct FinePairs {
  const float *axial_even, *axial_odd, *extra_even, *extra_odd, *inside, *outside;
  float *self, *other;
};
struct CoarsePairs {
  float *axial_even, *axial_odd, *extra_even, *extra_odd, *inside, *outside;
};

// One set for each kind of processor.
struct Kernels {
  // Solves all columns of the colour exactly: x = (tridiagonal)^-1 (b + here y + there y[offset]).
  // y null: the other colour is zero.
  void (*solve_lines)(std::size_t n, std::size_t nz, const Lines&, const float* b, const float* y,
                      float* x);

  // Residual here y + there y[offset] that changing the other colour from 0 to y left in this one,
  // as the right side of the coarser grid's colours (rows of m).
  void (*restrict_residual)(std::size_t n, std::size_t nz, std::size_t m, const Lines&,
                            const float* y, const float* self, const float* other,
                            float* coarse_even, float* coarse_odd);

  // x += self e + other e[-1] with the coarse correction e.
  void (*add_correction)(std::size_t n, std::size_t nz, std::size_t m, const float* coarse_even,
                         const float* coarse_odd, const float* self, const float* other, float* x);

  // out = A x for the colour, y the other colour. Returns x . out.
  double (*multiply)(std::size_t n, std::size_t nz, const Operator&, const double* x,
                     const double* y, double* out);

  // Diagonal of A for one colour; extra is boundary part plus D. A cell without any coupling
  // gets 1.
  void (*sum_diagonal)(std::size_t n, std::size_t nz, const double* axial, const double* extra,
                       const double* here, const double* there, double* diagonal);

  // Factors of the columns of one colour. With a_j the conductance from row j to row j + 1 and e_j
  // all others of the cell, elimination from below leaves
  //
  //   s_j = e_j + a_(j-1) s_(j-1) / (a_(j-1) + s_(j-1)),   pivot_j = 1 / (a_j + s_j),
  //   factor_j = a_(j-1) pivot_(j-1)
  //
  // where s_j is what the cells up to j lose to anything but row j + 1: sums and products of
  // positive numbers only, so every factor is right to a few units of the last place.
  // row holds 2 n numbers.
  void (*factor)(std::size_t n, std::size_t nz, const float* axial, const float* extra,
                 const float* here, const float* there, float* row, float* pivot, float* factor);

  // The coarser operator's rows (of m) from the fine pairs, and the fine even columns' weights.
  // row holds 4 (n + lanes) numbers.
  void (*coarsen)(std::size_t n, std::size_t nz, std::size_t m, const FinePairs&, float* row,
                  const CoarsePairs&);

  // Largest of coupling / extra over all cells: how far lines alone are from the whole answer.
  float (*strongest_coupling)(std::size_t count, const float* inside, const float* outside,
                              const float* extra_even, const float* extra_odd);

  // x += alpha p, r -= alpha q, single = r. Returns r . r.
  double (*update)(std::size_t count, double alpha, const double* p, const double* q, double* x,
                   double* r, float* single);
  double (*largest_product)(std::size_t count, const double* r, const double* scale);
  double (*dot)(std::size_t count, const float* z, const double* r);
  // p = z + beta p.
  void (*next_direction)(std::size_t count, const float* z, double beta, double* p);
  void (*round_to_single)(std::size_t count, const double* from, float* to);
  // Largest of |now - before| - share before: not positive if nothing has changed by more.
  float (*largest_change)(std::size_t count, const double* now, const float* before, float share);
};

// The set that suits this processor.
const Kernels& kernels();

}  // namespace tabmelt::line_kernels
