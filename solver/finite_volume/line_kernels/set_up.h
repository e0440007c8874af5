// Taking the operator, coarser operators, factors. Included into the body of each kernel set only.
#pragma once

#include <cmath>

#include "solver/finite_volume/line_kernels/registers.h"

namespace tabmelt::line_kernels {
namespace {

template <bool even>
void factor(std::size_t registers, std::size_t rows, const Pairs<const float>& c,
            const Column<float>& left, float* pivot, float* factor) {
  const float* axial = even ? c.axial_even : c.axial_odd;
  const float* extra = even ? c.extra_even : c.extra_odd;
  with_registers(registers, [&](auto constant) {
    constexpr int count = constant;
    constexpr std::size_t n = count * lanes;
    const Eight one = Eight{} + 1.0F;
    Eight loss[count] = {}, from_below[count] = {};  // a s / (a + s) and factor of the row below
    for (std::size_t j = 0; j < rows; ++j) {
#pragma GCC unroll 5
      for (int k = 0; k < count; ++k) {
        const std::size_t at = j * n + static_cast<std::size_t>(k) * lanes;
        Eight there;
        if constexpr (even) {
          there = eight(c.outside + at - 1);
          if (k == 0) there[0] = left[j];
        } else {
          there = eight(c.outside + at);
        }
        const Eight up = eight(axial + at);
        const Eight s = eight(extra + at) + eight(c.inside + at) + there + loss[k];
        const Eight sum = up + s;
        const Eight p = one / (sum > 0 ? sum : one);
        put(pivot + at, p);
        put(factor + at, from_below[k]);
        from_below[k] = up * p;
        loss[k] = from_below[k] * s;
      }
    }
  });
}

void factor_even(std::size_t registers, std::size_t rows, const Pairs<const float>& c,
                 const Column<float>& left, float* pivot, float* factors) {
  factor<true>(registers, rows, c, left, pivot, factors);
}

void factor_odd(std::size_t registers, std::size_t rows, const Pairs<const float>& c, float* pivot,
                float* factors) {
  factor<false>(registers, rows, c, {}, pivot, factors);
}

// Resistance from a pair's centre to either of its columns.
[[gnu::always_inline]] inline Eight half_of(const Eight& inside) {
  const Eight one = Eight{} + 1.0F;
  return inside > 0 ? 0.5F / (inside > 0 ? inside : one) : Eight{};
}
inline float half_of(float inside) { return inside > 0 ? 0.5F / inside : 0.0F; }

// Two pairs joined by resistances in series.
[[gnu::always_inline]] inline Eight in_series(const Eight& half, const Eight& outside,
                                              const Eight& next_half) {
  const Eight one = Eight{} + 1.0F;
  const Eight between = one / (outside > 0 ? outside : one);
  return outside > 0 ? one / (half + between + next_half) : Eight{};
}
inline float in_series(float half, float outside, float next_half) {
  return outside > 0 ? 1 / (half + 1 / outside + next_half) : 0.0F;
}

void coarsen(std::size_t registers, std::size_t rows, std::size_t m, const Pairs<const float>& fine,
             const Kernels::BesidePairs& beside, float* other, const Pairs<float>& coarse) {
  with_registers(registers, [&](auto constant) {
    constexpr int count = constant;
    constexpr std::size_t n = count * lanes;
    for (std::size_t j = 0; j < rows; ++j) {
      const auto at = [&](int k) { return j * n + static_cast<std::size_t>(k) * lanes; };
      Eight half[count + 1], coupling[count + 1];
#pragma GCC unroll 5
      for (int k = 0; k < count; ++k) half[k] = half_of(eight(fine.inside + at(k)));
      half[count] = Eight{};
      half[count][0] = half_of(beside.right_inside[j]);
      // A pair's coupling to the next one; the next pair's even column leans to this pair.
      Eight before = {};
      before[lanes - 1] =
          in_series(half_of(beside.left_inside[j]), beside.left_outside[j], half[0][0]);
#pragma GCC unroll 5
      for (int k = 0; k < count; ++k) {
        coupling[k] =
            in_series(half[k], eight(fine.outside + at(k)), moved_down(half[k], half[k + 1]));
        put(other + at(k), half[k] * moved_up(before, coupling[k]));
        before = coupling[k];
      }
      coupling[count] = Eight{};
#pragma GCC unroll 5
      for (int k = 0; k < count; k += 2) {
        const std::size_t to = j * m + static_cast<std::size_t>(k) * lanes / 2;
        const auto join = [&](const float* even, const float* odd, float* to_even, float* to_odd) {
          const Eight low = eight(even + at(k)) + eight(odd + at(k));
          Eight high = {};
          if (k + 1 < count) high = eight(even + at(k + 1)) + eight(odd + at(k + 1));
          put(to_even + to, evens(low, high));
          put(to_odd + to, odds(low, high));
        };
        join(fine.axial_even, fine.axial_odd, coarse.axial_even, coarse.axial_odd);
        join(fine.extra_even, fine.extra_odd, coarse.extra_even, coarse.extra_odd);
        put(coarse.inside + to, evens(coupling[k], coupling[k + 1]));
        put(coarse.outside + to, odds(coupling[k], coupling[k + 1]));
      }
    }
  });
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

[[gnu::always_inline]] inline float larger(float a, float b) { return a > b ? a : b; }
[[gnu::always_inline]] inline float moved(double now, float kept, float share) {
  return std::abs(static_cast<float>(now) - kept) - share * kept;
}

float take_diagonals(std::size_t count, const double* boundary, const double* own,
                     const Pairs<double>& pairs, const Diagonals& diagonals,
                     const Pairs<const float>& kept, float share) {
  const Pairs<double> to = pairs;
  const Diagonals d = diagonals;
  const Pairs<const float> before = kept;
  float largest = 0;
#pragma omp simd reduction(max : largest)
  for (std::size_t k = 0; k < count; ++k) {
    const double even = boundary[2 * k] + own[2 * k], odd = boundary[2 * k + 1] + own[2 * k + 1];
    to.extra_even[k] = even;
    to.extra_odd[k] = odd;
    const double whole_even = d.ties_even[k] + even, whole_odd = d.ties_odd[k] + odd;
    // A cell without any coupling (empty, or without current) keeps its value.
    d.even[k] = whole_even > 0 ? whole_even : 1.0;
    d.odd[k] = whole_odd > 0 ? whole_odd : 1.0;
    const float most =
        larger(moved(even, before.extra_even[k], share), moved(odd, before.extra_odd[k], share));
    largest = larger(most, largest);
  }
  return largest;
}

float take_pairs(std::size_t count, const Kernels::NaturalRow& row, const Pairs<double>& pairs,
                 const Diagonals& diagonals, const Pairs<const float>& kept, float share) {
  const double* __restrict radial = row.radial;
  const double* __restrict axial = row.axial;
  // Nothing lies below the first row.
  const double* __restrict below = row.below ? row.below : row.axial;
  const double lower = row.below ? 1.0 : 0.0;
  const Pairs<double> to = pairs;
  const Diagonals d = diagonals;
  const Pairs<const float> before = kept;
  float largest = 0;
#pragma omp simd reduction(max : largest)
  for (std::size_t k = 0; k < count; ++k) {
    const double inside = radial[2 * k], outside = radial[2 * k + 1];
    const double even = axial[2 * k], odd = axial[2 * k + 1];
    to.inside[k] = inside;
    to.outside[k] = outside;
    to.axial_even[k] = even;
    to.axial_odd[k] = odd;
    d.ties_even[k] = inside + even + lower * below[2 * k];
    d.ties_odd[k] = inside + outside + odd + lower * below[2 * k + 1];
    const float radial_most =
        larger(moved(inside, before.inside[k], share), moved(outside, before.outside[k], share));
    const float axial_most =
        larger(moved(even, before.axial_even[k], share), moved(odd, before.axial_odd[k], share));
    largest = larger(larger(radial_most, axial_most), largest);
  }
  double left = row.left;
  for (std::size_t k = 0; k < count; ++k) {
    d.ties_even[k] += left;
    left = to.outside[k];
  }
  return larger(largest,
                take_diagonals(count, row.boundary, row.own, pairs, diagonals, kept, share));
}

void round_to_single(std::size_t count, const double* from, float* to) {
#pragma omp simd
  for (std::size_t i = 0; i < count; ++i) to[i] = static_cast<float>(from[i]);
}

}  // namespace
}  // namespace tabmelt::line_kernels
