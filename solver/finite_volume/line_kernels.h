// The inner loops of LineMultigrid over one colour of columns: plain arrays in, plain arrays out.
// Arrays hold rows of n columns; neighbours of the other colour sit at the same place (`here`) and
// one place before or after it (`there`, offset -1 or +1).
#pragma once

#include <cstddef>

namespace tabmelt::line_kernels {

struct Couplings {
  const double* axial;
  const double* pivot;
  const double* factor;
  const double* diagonal;
  const double* here;   // conductance to the other colour's column at the same place
  const double* there;  // conductance to its neighbour
};

// Solves all columns of the colour exactly: x = (tridiagonal)^-1 (b + here y + there y[offset]).
// y null: the other colour is zero. work holds n * nz numbers.
void solve_lines(std::size_t n, std::size_t nz, const Couplings&, const double* b, const double* y,
                 std::ptrdiff_t offset, double* work, double* x);

// out = b - A x for the colour (b null: out = A x).
void residual(std::size_t n, std::size_t nz, const Couplings&, const double* b, const double* x,
              const double* y, std::ptrdiff_t offset, double* out);

}  // namespace tabmelt::line_kernels
