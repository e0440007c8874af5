#include "solver/finite_volume/line_kernels.h"

// Two versions of each kernel, chosen when the program starts; sanitizers cannot run the chooser.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__)
#define TABMELT_WIDE __attribute__((target_clones("arch=haswell", "default")))
#else
#define TABMELT_WIDE
#endif

namespace tabmelt::line_kernels {

TABMELT_WIDE
void solve_lines(std::size_t n, std::size_t nz, const Couplings& c, const double* b,
                 const double* y, std::ptrdiff_t offset, double* work, double* x) {
  for (std::size_t j = 0; j < nz; ++j) {
    const std::size_t row = j * n;
    double* __restrict w = work + row;
    const double* __restrict right = b + row;
    if (y) {
      const double* __restrict here = c.here + row, * __restrict there = c.there + row;
      const double* __restrict same = y + row;
      const double* __restrict next = same + offset;
      for (std::size_t i = 0; i < n; ++i) w[i] = right[i] + here[i] * same[i] + there[i] * next[i];
    } else {
      for (std::size_t i = 0; i < n; ++i) w[i] = right[i];
    }
    if (j > 0) {
      const double* __restrict below = work + row - n;
      const double* __restrict factor = c.factor + row;
      for (std::size_t i = 0; i < n; ++i) w[i] += factor[i] * below[i];
    }
  }
  for (std::size_t j = nz; j-- > 0;) {
    const std::size_t row = j * n;
    const double* __restrict w = work + row;
    const double* __restrict pivot = c.pivot + row;
    double* __restrict out = x + row;
    if (j + 1 < nz) {
      const double* __restrict axial = c.axial + row;
      const double* __restrict above = x + row + n;
      for (std::size_t i = 0; i < n; ++i) out[i] = (w[i] + axial[i] * above[i]) * pivot[i];
    } else {
      for (std::size_t i = 0; i < n; ++i) out[i] = w[i] * pivot[i];
    }
  }
}

TABMELT_WIDE
void residual(std::size_t n, std::size_t nz, const Couplings& c, const double* b, const double* x,
              const double* y, std::ptrdiff_t offset, double* out) {
  const double sign = b ? -1.0 : 1.0;
  for (std::size_t j = 0; j < nz; ++j) {
    const std::size_t row = j * n;
    const double* __restrict here = c.here + row, * __restrict there = c.there + row;
    const double* __restrict diagonal = c.diagonal + row;
    const double* __restrict own = x + row;
    const double* __restrict same = y + row;
    const double* __restrict next = same + offset;
    double* __restrict r = out + row;
    for (std::size_t i = 0; i < n; ++i)
      r[i] = sign * (diagonal[i] * own[i] - here[i] * same[i] - there[i] * next[i]);
    if (j > 0) {
      const double* __restrict axial = c.axial + row - n, * __restrict below = x + row - n;
      for (std::size_t i = 0; i < n; ++i) r[i] -= sign * axial[i] * below[i];
    }
    if (j + 1 < nz) {
      const double* __restrict axial = c.axial + row, * __restrict above = x + row + n;
      for (std::size_t i = 0; i < n; ++i) r[i] -= sign * axial[i] * above[i];
    }
    if (b) {
      const double* __restrict right = b + row;
      for (std::size_t i = 0; i < n; ++i) r[i] += right[i];
    }
  }
}

}  // namespace tabmelt::line_kernels
