// Relaxation by lines, and what passes between grids. Included into the body of each kernel set
// only.
#pragma once

#include "solver/finite_volume/line_kernels/registers.h"

namespace tabmelt::line_kernels {
namespace {

enum class Colour { even_alone, even, odd };

// From bottom to top and back, what passes from row to row staying in registers:
// w_j = right_j + factor_j w_(j-1),  x_j = pivot_j w_j + factor_(j+1) x_(j+1).
template <int count, Colour colour, typename Right>
[[gnu::always_inline]] inline void solve_panel(std::size_t rows, const Lines& c,
                                               const Beside<float>& beside, const Right* b,
                                               const float* y, float* x) {
  constexpr std::size_t n = count * lanes;
  Eight w[count] = {};
  for (std::size_t j = 0; j < rows; ++j) {
    const std::size_t row = j * n;
#pragma GCC unroll 5
    for (int k = 0; k < count; ++k) {
      const std::size_t at = row + static_cast<std::size_t>(k) * lanes;
      Eight right = eight(b + at);
      if constexpr (colour == Colour::odd) {
        Eight next = eight(y + at + 1);
        if (k + 1 == count) next[lanes - 1] = beside.value[j];
        right = right + eight(c.inside + at) * eight(y + at) + eight(c.outside + at) * next;
      } else if constexpr (colour == Colour::even) {
        Eight before = eight(y + at - 1), between = eight(c.outside + at - 1);
        if (k == 0) {
          before[0] = beside.value[j];
          between[0] = beside.outside[j];
        }
        right = right + eight(c.inside + at) * eight(y + at) + between * before;
      }
      w[k] = right + eight(c.factor + at) * w[k];
      put(x + at, eight(c.pivot + at) * w[k]);
    }
  }
#pragma GCC unroll 5
  for (int k = 0; k < count; ++k)
    w[k] = eight(x + (rows - 1) * n + static_cast<std::size_t>(k) * lanes);
  for (std::size_t j = rows - 1; j-- > 0;) {
#pragma GCC unroll 5
    for (int k = 0; k < count; ++k) {
      const std::size_t at = j * n + static_cast<std::size_t>(k) * lanes;
      w[k] = eight(x + at) + eight(c.factor + at + n) * w[k];
      put(x + at, w[k]);
    }
  }
}

template <typename Right>
void solve_even_alone(std::size_t registers, std::size_t rows, const Lines& c, const Right* b,
                      float* x) {
  with_registers(registers, [&](auto count) {
    solve_panel<count, Colour::even_alone>(rows, c, {}, b, nullptr, x);
  });
}

template <Colour colour, typename Right>
void solve(std::size_t registers, std::size_t rows, const Lines& c, const Beside<float>& beside,
           const Right* b, const float* y, float* x) {
  with_registers(registers,
                 [&](auto count) { solve_panel<count, colour>(rows, c, beside, b, y, x); });
}

template <typename Right>
constexpr Kernels::SolveLines<Right> solve_lines = {
    solve_even_alone<Right>, solve<Colour::even, Right>, solve<Colour::odd, Right>};

void restrict_residual(std::size_t registers, std::size_t rows, std::size_t m, const Passing& c,
                       float* coarse_even, float* coarse_odd) {
  with_registers(registers, [&](auto constant) {
    constexpr int count = constant;
    constexpr std::size_t n = count * lanes;
    for (std::size_t j = 0; j < rows; ++j) {
      // Residual, and the part of it that goes to the pair before; one more for the pair behind.
      Eight own[count], given[count + 1];
#pragma GCC unroll 5
      for (int k = 0; k < count; ++k) {
        const std::size_t at = j * n + static_cast<std::size_t>(k) * lanes;
        Eight before = eight(c.y + at - 1), between = eight(c.outside + at - 1);
        if (k == 0) {
          before[0] = c.left.value[j];
          between[0] = c.left.outside[j];
        }
        own[k] = eight(c.inside + at) * eight(c.y + at) + between * before;
        given[k] = eight(c.other + at) * own[k];
      }
      const std::size_t last = j * n + n - 1;
      given[count] = Eight{};
      given[count][0] =
          c.right_other[j] * (c.right_inside[j] * c.right_y[j] + c.outside[last] * c.y[last]);
#pragma GCC unroll 5
      for (int k = 0; k < count; k += 2) {
        const Eight low = (own[k] - given[k]) + moved_down(given[k], given[k + 1]);
        Eight high = {};
        if (k + 1 < count)
          high = (own[k + 1] - given[k + 1]) + moved_down(given[k + 1], given[k + 2]);
        const std::size_t coarse = j * m + static_cast<std::size_t>(k) * lanes / 2;
        put(coarse_even + coarse, evens(low, high));
        put(coarse_odd + coarse, odds(low, high));
      }
    }
  });
}

void add_correction(std::size_t registers, std::size_t rows, std::size_t m,
                    const float* coarse_even, const float* coarse_odd, const Column<float>& before,
                    const float* other, float* x) {
  // Fine columns 2k and 2k + 1 belong to coarse even and odd column k; the pair before them is odd
  // k - 1 and even k. The first column of a row has weight 0 for it.
  with_registers(registers, [&](auto constant) {
    constexpr int count = constant;
    constexpr std::size_t n = count * lanes;
    for (std::size_t j = 0; j < rows; ++j) {
#pragma GCC unroll 5
      for (int k = 0; k < count; k += 2) {
        const std::size_t coarse = j * m + static_cast<std::size_t>(k) * lanes / 2;
        const Eight e = eight(coarse_even + coarse), o = eight(coarse_odd + coarse);
        Eight last = eight(coarse_odd + coarse - 1);
        if (k == 0) last[0] = before[j];
        const auto add = [&](std::size_t at, const Eight& own, const Eight& pair_before) {
          put(x + at, eight(x + at) + (own + eight(other + at) * (pair_before - own)));
        };
        const std::size_t at = j * n + static_cast<std::size_t>(k) * lanes;
        add(at, woven_low(e, o), woven_low(last, e));
        if (k + 1 < count) add(at + lanes, woven_high(e, o), woven_high(last, e));
      }
    }
  });
}

}  // namespace
}  // namespace tabmelt::line_kernels
