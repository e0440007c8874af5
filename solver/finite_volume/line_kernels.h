// The inner loops of LineMultigrid over one colour of columns: plain arrays in, plain arrays out.
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
  const double* axial;
  const double* pivot;
  const double* factor;
  const double* here;
  const double* there;
  std::ptrdiff_t offset;
};

// Solves all columns of the colour exactly: x = (tridiagonal)^-1 (b + here y + there y[offset]).
// y null: the other colour is zero. work holds n * nz numbers.
void solve_lines(std::size_t n, std::size_t nz, const Lines&, const double* b, const double* y,
                 double* work, double* x);

// Residual here y + there y[offset] that changing the other colour from 0 to y left in this one, as
// the right side of the coarser grid's colours (rows of m). row holds 2 (n + lanes) numbers.
void restrict_residual(std::size_t n, std::size_t nz, std::size_t m, const Lines&, const double* y,
                       const double* self, const double* other, double* row, double* coarse_even,
                       double* coarse_odd);

// x += self e + other e[-1] with the coarse correction e. row holds n + 2 lanes numbers.
void add_correction(std::size_t n, std::size_t nz, std::size_t m, const double* coarse_even,
                    const double* coarse_odd, const double* self, const double* other, double* row,
                    double* x);

// The operator of one colour in double precision.
struct Operator {
  const double* axial;
  const double* diagonal;
  const double* here;
  const double* there;
  std::ptrdiff_t offset;
};

// out = A x for the colour, y the other colour. Returns x . out.
double multiply(std::size_t n, std::size_t nz, const Operator&, const double* x, const double* y,
                double* out);

// Diagonal of A and the factors of its columns; extra is boundary part plus D.
void factor(std::size_t n, std::size_t nz, const double* axial, const double* extra,
            const double* here, const double* there, double* diagonal, double* pivot,
            double* factor);

// The coarser operator's rows (of m) from the fine pairs, and the fine even columns' weights.
// row holds 4 (n + lanes) numbers.
struct FinePairs {
  const double *axial_even, *axial_odd, *extra_even, *extra_odd, *inside, *outside;
  double *self, *other;
};
struct CoarsePairs {
  double *axial_even, *axial_odd, *extra_even, *extra_odd, *inside, *outside;
};
void coarsen(std::size_t n, std::size_t nz, std::size_t m, const FinePairs&, double* row,
             const CoarsePairs&);

// Largest of coupling / extra over all cells: how far lines alone are from the whole answer.
double strongest_coupling(std::size_t count, const double* inside, const double* outside,
                          const double* extra_even, const double* extra_odd);

// x += alpha p, r -= alpha q. Returns r . r.
double update(std::size_t count, double alpha, const double* p, const double* q, double* x,
              double* r);
double largest_product(std::size_t count, const double* r, const double* scale);
double dot(std::size_t count, const double* z, const double* r);
// p = z + beta p.
void next_direction(std::size_t count, const double* z, double beta, double* p);

}  // namespace tabmelt::line_kernels
