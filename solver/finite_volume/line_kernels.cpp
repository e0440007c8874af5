#include "solver/finite_volume/line_kernels.h"

#include <algorithm>
#include <cmath>

// Two versions of each kernel, chosen when the program starts; sanitizers cannot run the chooser.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__)
#define TABMELT_WIDE __attribute__((target_clones("arch=haswell", "default")))
#else
#define TABMELT_WIDE
#endif

namespace tabmelt::line_kernels {

TABMELT_WIDE
void solve_lines(std::size_t n, std::size_t nz, const Lines& c, const double* b, const double* y,
                 double* work, double* x) {
  for (std::size_t j = 0; j < nz; ++j) {
    const std::size_t row = j * n;
    double* __restrict w = work + row;
    const double* __restrict right = b + row;
    const double* __restrict below = j > 0 ? work + row - n : right;  // factor is 0 in row 0
    const double* __restrict factor = c.factor + row;
    if (y) {
      const double* __restrict here = c.here + row, * __restrict there = c.there + row;
      const double* __restrict same = y + row;
      const double* __restrict next = same + c.offset;
      for (std::size_t i = 0; i < n; ++i)
        w[i] = right[i] + here[i] * same[i] + there[i] * next[i] + factor[i] * below[i];
    } else {
      for (std::size_t i = 0; i < n; ++i) w[i] = right[i] + factor[i] * below[i];
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
void restrict_residual(std::size_t n, std::size_t nz, std::size_t m, const Lines& c,
                       const double* y, const double* self, const double* other, double* row,
                       double* coarse_even, double* coarse_odd) {
  double* __restrict r = row;
  double* __restrict s = row + n + lanes;
  for (std::size_t i = n; i < n + lanes; ++i) r[i] = 0;
  for (std::size_t j = 0; j < nz; ++j) {
    const double* __restrict here = c.here + j * n, * __restrict there = c.there + j * n;
    const double* __restrict same = y + j * n;
    const double* __restrict next = same + c.offset;
    const double* __restrict own = self + j * n, * __restrict neighbour = other + j * n;
    for (std::size_t i = 0; i < n; ++i) r[i] = here[i] * same[i] + there[i] * next[i];
    for (std::size_t i = 0; i < n; ++i) s[i] = own[i] * r[i] + neighbour[i + 1] * r[i + 1];
    double* __restrict even = coarse_even + j * m, * __restrict odd = coarse_odd + j * m;
    for (std::size_t k = 0; k < n / 2; ++k) {
      even[k] = s[2 * k];
      odd[k] = s[2 * k + 1];
    }
  }
}

TABMELT_WIDE
void add_correction(std::size_t n, std::size_t nz, std::size_t m, const double* coarse_even,
                    const double* coarse_odd, const double* self, const double* other, double* row,
                    double* x) {
  double* __restrict e = row + lanes;
  e[-1] = 0;
  for (std::size_t j = 0; j < nz; ++j) {
    const double* __restrict even = coarse_even + j * m, * __restrict odd = coarse_odd + j * m;
    for (std::size_t k = 0; k < n / 2; ++k) {
      e[2 * k] = even[k];
      e[2 * k + 1] = odd[k];
    }
    const double* __restrict own = self + j * n, * __restrict neighbour = other + j * n;
    double* __restrict out = x + j * n;
    for (std::size_t i = 0; i < n; ++i)
      out[i] += own[i] * e[i] + neighbour[i] * e[static_cast<std::ptrdiff_t>(i) - 1];
  }
}

TABMELT_WIDE
double multiply(std::size_t n, std::size_t nz, const Operator& c, const double* x, const double* y,
                double* out) {
  double sum = 0;
  for (std::size_t j = 0; j < nz; ++j) {
    const std::size_t row = j * n;
    const double* __restrict here = c.here + row, * __restrict there = c.there + row;
    const double* __restrict diagonal = c.diagonal + row;
    // The conductance above the last row is 0, and so is the one below the first: the row itself
    // stands in for the missing neighbour.
    const double* __restrict above_axial = c.axial + row;
    const double* __restrict own = x + row;
    const double* __restrict above = j + 1 < nz ? own + n : own;
    const double* __restrict same = y + row;
    const double* __restrict next = same + c.offset;
    double* __restrict r = out + row;
    if (j > 0) {
      const double* __restrict below_axial = above_axial - n;
      const double* __restrict below = own - n;
#pragma omp simd reduction(+ : sum)
      for (std::size_t i = 0; i < n; ++i) {
        r[i] = diagonal[i] * own[i] - here[i] * same[i] - there[i] * next[i] -
               above_axial[i] * above[i] - below_axial[i] * below[i];
        sum += r[i] * own[i];
      }
    } else {
#pragma omp simd reduction(+ : sum)
      for (std::size_t i = 0; i < n; ++i) {
        r[i] = diagonal[i] * own[i] - here[i] * same[i] - there[i] * next[i] -
               above_axial[i] * above[i];
        sum += r[i] * own[i];
      }
    }
  }
  return sum;
}

TABMELT_WIDE
void factor(std::size_t n, std::size_t nz, const double* axial, const double* extra,
            const double* here, const double* there, double* diagonal, double* pivot,
            double* factor) {
  for (std::size_t j = 0; j < nz; ++j) {
    const std::size_t row = j * n;
    const double* __restrict up = axial + row;
    // Nothing lies below the first row.
    const double lower = j > 0 ? 1.0 : 0.0;
    const double* __restrict down = j > 0 ? up - n : up;
    const double* __restrict last = j > 0 ? pivot + row - n : up;
    const double* __restrict own = extra + row;
    const double* __restrict same = here + row, * __restrict next = there + row;
    double* __restrict out = diagonal + row, * __restrict p = pivot + row;
    double* __restrict f = factor + row;
    for (std::size_t i = 0; i < n; ++i) {
      const double below = lower * down[i];
      const double sum = own[i] + same[i] + next[i] + up[i] + below;
      // A cell without any coupling (empty, or without current) keeps its value.
      const double d = sum > 0 ? sum : 1.0;
      const double share = below * last[i];
      const double left = d - share * below;
      out[i] = d;
      f[i] = share;
      p[i] = 1.0 / std::max(left, 1e-14 * d);
    }
  }
}

TABMELT_WIDE
void coarsen(std::size_t n, std::size_t nz, std::size_t m, const FinePairs& fine, double* row,
             const CoarsePairs& coarse) {
  double* __restrict half = row;
  double* __restrict axial = row + (n + lanes);
  double* __restrict extra = row + 2 * (n + lanes);
  double* __restrict coupling = row + 3 * (n + lanes);
  for (std::size_t i = n; i < n + lanes; ++i) half[i] = 0;
  for (std::size_t j = 0; j < nz; ++j) {
    const std::size_t f = j * n, c = j * m;
    const double* __restrict ae = fine.axial_even + f, * __restrict ao = fine.axial_odd + f;
    const double* __restrict ee = fine.extra_even + f, * __restrict eo = fine.extra_odd + f;
    const double* __restrict in = fine.inside + f, * __restrict out = fine.outside + f;
    double* __restrict self = fine.self + f, * __restrict other = fine.other + f;
    for (std::size_t i = 0; i < n; ++i) {
      axial[i] = ae[i] + ao[i];
      extra[i] = ee[i] + eo[i];
      // Resistance from a pair's centre to either of its columns.
      const double inverse = 0.5 / (in[i] > 0 ? in[i] : 1.0);
      half[i] = in[i] > 0 ? inverse : 0.0;
    }
    // Pairs joined by resistances in series; the next pair's even column leans to this pair.
    for (std::size_t i = 0; i < n; ++i) {
      const double between = 1.0 / (out[i] > 0 ? out[i] : 1.0);
      const double joined = 1.0 / (half[i] + between + half[i + 1]);
      coupling[i] = out[i] > 0 ? joined : 0.0;
    }
    other[0] = 0;
    for (std::size_t i = 0; i + 1 < n; ++i) other[i + 1] = (half[i + 1] * coupling[i]);
    for (std::size_t i = 0; i < n; ++i) self[i] = 1 - other[i];
    double* __restrict xe = coarse.axial_even + c, * __restrict xo = coarse.axial_odd + c;
    double* __restrict ye = coarse.extra_even + c, * __restrict yo = coarse.extra_odd + c;
    double* __restrict ci = coarse.inside + c, * __restrict co = coarse.outside + c;
    for (std::size_t k = 0; k < n / 2; ++k) {
      xe[k] = axial[2 * k];
      xo[k] = axial[2 * k + 1];
      ye[k] = extra[2 * k];
      yo[k] = extra[2 * k + 1];
      ci[k] = coupling[2 * k];
      co[k] = coupling[2 * k + 1];
    }
  }
}

TABMELT_WIDE
double strongest_coupling(std::size_t count, const double* inside, const double* outside,
                          const double* extra_even, const double* extra_odd) {
  double strongest = 0;
#pragma omp simd reduction(max : strongest)
  for (std::size_t i = 0; i < count; ++i) {
    const double weakest = extra_even[i] < extra_odd[i] ? extra_even[i] : extra_odd[i];
    const double coupling = inside[i] > outside[i] ? inside[i] : outside[i];
    const double ratio = coupling / (weakest + 1e-300);
    strongest = ratio > strongest ? ratio : strongest;
  }
  return strongest;
}

TABMELT_WIDE
double update(std::size_t count, double alpha, const double* p, const double* q, double* x,
              double* r) {
  double sum = 0;
#pragma omp simd reduction(+ : sum)
  for (std::size_t i = 0; i < count; ++i) {
    x[i] += alpha * p[i];
    r[i] -= alpha * q[i];
    sum += r[i] * r[i];
  }
  return sum;
}

TABMELT_WIDE
double largest_product(std::size_t count, const double* r, const double* scale) {
  double largest = 0;
#pragma omp simd reduction(max : largest)
  for (std::size_t i = 0; i < count; ++i) {
    const double product = std::abs(r[i] * scale[i]);
    largest = product > largest ? product : largest;
  }
  return largest;
}

TABMELT_WIDE
double dot(std::size_t count, const double* z, const double* r) {
  double sum = 0;
#pragma omp simd reduction(+ : sum)
  for (std::size_t i = 0; i < count; ++i) sum += z[i] * r[i];
  return sum;
}

TABMELT_WIDE
void next_direction(std::size_t count, const double* z, double beta, double* p) {
#pragma omp simd
  for (std::size_t i = 0; i < count; ++i) p[i] = z[i] + beta * p[i];
}

}  // namespace tabmelt::line_kernels
