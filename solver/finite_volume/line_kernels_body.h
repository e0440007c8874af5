// The kernels of line_kernels.h. Compiled once for each kind of processor: the including file names
// the set it builds in TABMELT_KERNEL_SET.
#include <cmath>
#include <cstdint>

#include "solver/finite_volume/line_kernels.h"

namespace tabmelt::line_kernels {
namespace {

// Eight neighbours of a row, anywhere in memory.
using Eight = float __attribute__((vector_size(4 * lanes), aligned(4), may_alias));

// `count` times eight columns from bottom to top and back, what passes from row to row staying in
// registers:  w_j = right_j + factor_j w_(j-1),  x_j = pivot_j w_j + factor_(j+1) x_(j+1).
template <int count>
[[gnu::always_inline]] inline void solve_block(std::size_t n, std::size_t nz, const Lines& c,
                                               std::size_t first, const float* b, const float* y,
                                               float* x) {
  const auto at = [](const float* p, int k) -> const Eight& {
    return reinterpret_cast<const Eight*>(p)[k];
  };
  Eight w[count] = {};
  for (std::size_t j = 0; j < nz; ++j) {
    const std::size_t row = j * n + first;
    if (y) {
#pragma GCC unroll 4
      for (int k = 0; k < count; ++k)
        w[k] = (at(b + row, k) + at(c.here + row, k) * at(y + row, k) +
                at(c.there + row, k) * at(y + row + c.offset, k)) +
               at(c.factor + row, k) * w[k];
    } else {
#pragma GCC unroll 4
      for (int k = 0; k < count; ++k) w[k] = at(b + row, k) + at(c.factor + row, k) * w[k];
    }
#pragma GCC unroll 4
    for (int k = 0; k < count; ++k)
      reinterpret_cast<Eight*>(x + row)[k] = at(c.pivot + row, k) * w[k];
  }
#pragma GCC unroll 4
  for (int k = 0; k < count; ++k) w[k] = at(x + (nz - 1) * n + first, k);
  for (std::size_t j = nz - 1; j-- > 0;) {
    const std::size_t row = j * n + first;
#pragma GCC unroll 4
    for (int k = 0; k < count; ++k) {
      w[k] = at(x + row, k) + at(c.factor + row + n, k) * w[k];
      reinterpret_cast<Eight*>(x + row)[k] = w[k];
    }
  }
}

void solve_lines(std::size_t n, std::size_t nz, const Lines& c, const float* b, const float* y,
                 float* x) {
  std::size_t i = 0;
  for (; i + 4 * lanes <= n; i += 4 * lanes) solve_block<4>(n, nz, c, i, b, y, x);
  for (; i + 2 * lanes <= n; i += 2 * lanes) solve_block<2>(n, nz, c, i, b, y, x);
  for (; i + lanes <= n; i += lanes) solve_block<1>(n, nz, c, i, b, y, x);
}

Eight eight(const float* p) { return *reinterpret_cast<const Eight*>(p); }
void put(float* p, const Eight& v) { *reinterpret_cast<Eight*>(p) = v; }

using Order = std::int32_t __attribute__((vector_size(4 * lanes)));

void restrict_residual(std::size_t n, std::size_t nz, std::size_t m, const Lines& c, const float* y,
                       const float* self, const float* other, float* coarse_even,
                       float* coarse_odd) {
  // Padding of a row, and what follows it, has weight 0.
  const auto sum = [&](std::size_t at) {
    const float *here = c.here + at, *there = c.there + at, *same = y + at;
    const float* next = same + c.offset;
    const Eight own = eight(here) * eight(same) + eight(there) * eight(next);
    const Eight beside = eight(here + 1) * eight(same + 1) + eight(there + 1) * eight(next + 1);
    return Eight(eight(self + at) * own + eight(other + at + 1) * beside);
  };
  for (std::size_t j = 0; j < nz; ++j) {
    for (std::size_t i = 0; i < n; i += 2 * lanes) {
      const Eight low = sum(j * n + i);
      const Eight high = i + lanes < n ? sum(j * n + i + lanes) : Eight{};
      const std::size_t coarse = j * m + i / 2;
      put(coarse_even + coarse, __builtin_shuffle(low, high, Order{0, 2, 4, 6, 8, 10, 12, 14}));
      put(coarse_odd + coarse, __builtin_shuffle(low, high, Order{1, 3, 5, 7, 9, 11, 13, 15}));
    }
  }
}

void add_correction(std::size_t n, std::size_t nz, std::size_t m, const float* coarse_even,
                    const float* coarse_odd, const float* self, const float* other, float* x) {
  const auto add = [&](std::size_t at, const Eight& own, const Eight& before) {
    put(x + at, eight(x + at) + (eight(self + at) * own + eight(other + at) * before));
  };
  constexpr Order low = {0, 8, 1, 9, 2, 10, 3, 11}, high = {4, 12, 5, 13, 6, 14, 7, 15};
  for (std::size_t j = 0; j < nz; ++j) {
    for (std::size_t i = 0; i < n; i += 2 * lanes) {
      // Fine columns 2k and 2k + 1 belong to coarse even and odd column k; the pair before them is
      // odd k - 1 and even k. The first column of a row has weight 0 for it.
      const float *even = coarse_even + j * m + i / 2, *odd = coarse_odd + j * m + i / 2;
      const Eight e = eight(even), o = eight(odd), last = eight(odd - 1);
      add(j * n + i, __builtin_shuffle(e, o, low), __builtin_shuffle(last, e, low));
      if (i + lanes < n)
        add(j * n + i + lanes, __builtin_shuffle(e, o, high), __builtin_shuffle(last, e, high));
    }
  }
}

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

void sum_diagonal(std::size_t n, std::size_t nz, const double* axial, const double* extra,
                  const double* here, const double* there, double* diagonal) {
  for (std::size_t j = 0; j < nz; ++j) {
    const std::size_t row = j * n;
    const double* __restrict up = axial + row;
    // Nothing lies below the first row.
    const double lower = j > 0 ? 1.0 : 0.0;
    const double* __restrict down = j > 0 ? up - n : up;
    const double* __restrict own = extra + row;
    const double* __restrict same = here + row, * __restrict next = there + row;
    double* __restrict out = diagonal + row;
    for (std::size_t i = 0; i < n; ++i) {
      const double sum = own[i] + same[i] + next[i] + up[i] + lower * down[i];
      // A cell without any coupling (empty, or without current) keeps its value.
      out[i] = sum > 0 ? sum : 1.0;
    }
  }
}

void factor(std::size_t n, std::size_t nz, const float* axial, const float* extra,
            const float* here, const float* there, float* row, float* pivot, float* factor) {
  float* __restrict loss = row;  // a s / (a + s) of the row below
  for (std::size_t i = 0; i < n; ++i) {
    loss[i] = 0;
    factor[i] = 0;
  }
  for (std::size_t j = 0; j < nz; ++j) {
    const std::size_t at = j * n;
    const bool last = j + 1 == nz;
    const float* __restrict up = axial + at;
    const float* __restrict own = extra + at;
    const float* __restrict same = here + at, * __restrict next = there + at;
    float* __restrict p = pivot + at;
    float* __restrict f = last ? row + n : factor + at + n;
    for (std::size_t i = 0; i < n; ++i) {
      const float s = own[i] + same[i] + next[i] + loss[i];
      const float sum = up[i] + s;
      p[i] = 1 / (sum > 0 ? sum : 1.0F);
      f[i] = up[i] * p[i];
      loss[i] = f[i] * s;
    }
  }
}

void coarsen(std::size_t n, std::size_t nz, std::size_t m, const FinePairs& fine, float* row,
             const CoarsePairs& coarse) {
  float* __restrict half = row;
  float* __restrict axial = row + (n + lanes);
  float* __restrict extra = row + 2 * (n + lanes);
  float* __restrict coupling = row + 3 * (n + lanes);
  for (std::size_t i = n; i < n + lanes; ++i) half[i] = 0;
  for (std::size_t j = 0; j < nz; ++j) {
    const std::size_t f = j * n, c = j * m;
    const float* __restrict ae = fine.axial_even + f, * __restrict ao = fine.axial_odd + f;
    const float* __restrict ee = fine.extra_even + f, * __restrict eo = fine.extra_odd + f;
    const float* __restrict in = fine.inside + f, * __restrict out = fine.outside + f;
    float* __restrict self = fine.self + f, * __restrict other = fine.other + f;
    for (std::size_t i = 0; i < n; ++i) {
      axial[i] = ae[i] + ao[i];
      extra[i] = ee[i] + eo[i];
      // Resistance from a pair's centre to either of its columns.
      const float inverse = 0.5F / (in[i] > 0 ? in[i] : 1.0F);
      half[i] = in[i] > 0 ? inverse : 0.0F;
    }
    // Pairs joined by resistances in series; the next pair's even column leans to this pair.
    for (std::size_t i = 0; i < n; ++i) {
      const float between = 1 / (out[i] > 0 ? out[i] : 1.0F);
      const float joined = 1 / (half[i] + between + half[i + 1]);
      coupling[i] = out[i] > 0 ? joined : 0.0F;
    }
    other[0] = 0;
    for (std::size_t i = 0; i + 1 < n; ++i) other[i + 1] = (half[i + 1] * coupling[i]);
    for (std::size_t i = 0; i < n; ++i) self[i] = 1 - other[i];
    float* __restrict xe = coarse.axial_even + c, * __restrict xo = coarse.axial_odd + c;
    float* __restrict ye = coarse.extra_even + c, * __restrict yo = coarse.extra_odd + c;
    float* __restrict ci = coarse.inside + c, * __restrict co = coarse.outside + c;
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

float strongest_coupling(std::size_t count, const float* inside, const float* outside,
                         const float* extra_even, const float* extra_odd) {
  float strongest = 0;
#pragma omp simd reduction(max : strongest)
  for (std::size_t i = 0; i < count; ++i) {
    const float weakest = extra_even[i] < extra_odd[i] ? extra_even[i] : extra_odd[i];
    const float coupling = inside[i] > outside[i] ? inside[i] : outside[i];
    const float ratio = coupling / (weakest + 1e-30F);
    strongest = ratio > strongest ? ratio : strongest;
  }
  return strongest;
}

double update(std::size_t count, double alpha, const double* p, const double* q, double* x,
              double* r, float* single) {
  double sum = 0;
#pragma omp simd reduction(+ : sum)
  for (std::size_t i = 0; i < count; ++i) {
    x[i] += alpha * p[i];
    r[i] -= alpha * q[i];
    single[i] = static_cast<float>(r[i]);
    sum += r[i] * r[i];
  }
  return sum;
}

double largest_product(std::size_t count, const double* r, const double* scale) {
  double largest = 0;
#pragma omp simd reduction(max : largest)
  for (std::size_t i = 0; i < count; ++i) {
    const double product = std::abs(r[i] * scale[i]);
    largest = product > largest ? product : largest;
  }
  return largest;
}

double dot(std::size_t count, const float* z, const double* r) {
  double sum = 0;
#pragma omp simd reduction(+ : sum)
  for (std::size_t i = 0; i < count; ++i) sum += static_cast<double>(z[i]) * r[i];
  return sum;
}

void next_direction(std::size_t count, const float* z, double beta, double* p) {
#pragma omp simd
  for (std::size_t i = 0; i < count; ++i) p[i] = static_cast<double>(z[i]) + beta * p[i];
}

void round_to_single(std::size_t count, const double* from, float* to) {
#pragma omp simd
  for (std::size_t i = 0; i < count; ++i) to[i] = static_cast<float>(from[i]);
}

float largest_change(std::size_t count, const double* now, const float* before, float share) {
  float largest = 0;
#pragma omp simd reduction(max : largest)
  for (std::size_t i = 0; i < count; ++i) {
    const float change = std::abs(static_cast<float>(now[i]) - before[i]) - share * before[i];
    largest = change > largest ? change : largest;
  }
  return largest;
}

}  // namespace

extern const Kernels TABMELT_KERNEL_SET;
const Kernels TABMELT_KERNEL_SET = {
    solve_lines, restrict_residual, add_correction,     multiply,      sum_diagonal,
    factor,      coarsen,           strongest_coupling, update,        largest_product,
    dot,         next_direction,    round_to_single,    largest_change};

}  // namespace tabmelt::line_kernels
