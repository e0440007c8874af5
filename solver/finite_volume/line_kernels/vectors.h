// The operator and the vectors of conjugate gradients. Included into the body of each kernel set
// only.
#pragma once

#include <cmath>
#include <limits>

#include "solver/finite_volume/line_kernels/registers.h"

namespace tabmelt::line_kernels {
namespace {

template <bool even>
double multiply(std::size_t registers, std::size_t rows, const Operator& c,
                const Beside<double>& beside, const double* x, const double* y, double* out) {
  return with_registers(registers, [&](auto constant) {
    constexpr int count = 2 * constant;
    constexpr std::size_t n = count * half_lanes;
    Four sums[2] = {};
    // The conductance above the last row is 0: the row itself stands in for the missing one.
    const auto multiply_row = [&](std::size_t j, bool first, bool last) {
#pragma GCC unroll 10
      for (int k = 0; k < count; ++k) {
        const std::size_t at = j * n + static_cast<std::size_t>(k) * half_lanes;
        Four next, there;
        if constexpr (even) {
          next = four(y + at - 1);
          there = four(c.outside + at - 1);
          if (k == 0) {
            next[0] = beside.value[j];
            there[0] = beside.outside[j];
          }
        } else {
          next = four(y + at + 1);
          there = four(c.outside + at);
          if (k + 1 == count) next[half_lanes - 1] = beside.value[j];
        }
        const Four own = four(x + at), above = four(x + (last ? at : at + n));
        Four sum = four(c.diagonal + at) * own - four(c.inside + at) * four(y + at) - there * next -
                   four(c.axial + at) * above;
        if (!first) sum -= four(c.axial + at - n) * four(x + at - n);
        put(out + at, sum);
        sums[k % 2] += sum * own;
      }
    };
    if (rows == 1) {
      multiply_row(0, true, true);
    } else {
      multiply_row(0, true, false);
      for (std::size_t j = 1; j + 1 < rows; ++j) multiply_row(j, false, false);
      multiply_row(rows - 1, false, true);
    }
    const Four sum = sums[0] + sums[1];
    return (sum[0] + sum[1]) + (sum[2] + sum[3]);
  });
}

void next_direction(std::size_t count, const float* z, double beta, double last, bool fresh,
                    double* __restrict x, double* __restrict p) {
  if (beta == 0 && last == 0) {
#pragma omp simd
    for (std::size_t i = 0; i < count; ++i) p[i] = z[i];
  } else if (fresh) {
#pragma omp simd
    for (std::size_t i = 0; i < count; ++i) {
      x[i] = last * p[i];
      p[i] = static_cast<double>(z[i]) + beta * p[i];
    }
  } else {
#pragma omp simd
    for (std::size_t i = 0; i < count; ++i) {
      x[i] += last * p[i];
      p[i] = static_cast<double>(z[i]) + beta * p[i];
    }
  }
}

double dot(std::size_t count, const float* z, const double* r) {
  double sum = 0;
#pragma omp simd reduction(+ : sum)
  for (std::size_t i = 0; i < count; ++i) sum += static_cast<double>(z[i]) * r[i];
  return sum;
}

double reduce(std::size_t count, double alpha, const double* q, double* r) {
  double sum = 0;
#pragma omp simd reduction(+ : sum)
  for (std::size_t i = 0; i < count; ++i) {
    r[i] -= alpha * q[i];
    sum += r[i] * r[i];
  }
  return sum;
}

double largest_scaled(std::size_t count, const float* scale, const double* r) {
  double largest = 0, sum = 0;
#pragma omp simd reduction(max : largest) reduction(+ : sum)
  for (std::size_t i = 0; i < count; ++i) {
    const double product = std::abs(r[i] * static_cast<double>(scale[i]));
    largest = product > largest ? product : largest;
    sum += product;
  }
  return std::isfinite(sum) ? largest : std::numeric_limits<double>::infinity();
}

double reduce_scaled(std::size_t count, double alpha, const double* q, const float* scale,
                     double* r) {
  double largest = 0, sum = 0;
#pragma omp simd reduction(max : largest) reduction(+ : sum)
  for (std::size_t i = 0; i < count; ++i) {
    r[i] -= alpha * q[i];
    const double product = std::abs(r[i] * static_cast<double>(scale[i]));
    largest = product > largest ? product : largest;
    sum += product;
  }
  return std::isfinite(sum) ? largest : std::numeric_limits<double>::infinity();
}

}  // namespace
}  // namespace tabmelt::line_kernels
