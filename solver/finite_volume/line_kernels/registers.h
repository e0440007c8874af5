// Vector registers of the panel kernels. Included into the body of each kernel set only.
#pragma once

#include <type_traits>

#include "solver/finite_volume/line_kernels/kernels.h"

namespace tabmelt::line_kernels {
namespace {

// Eight neighbours of a row, anywhere in memory; four in double precision.
using Eight = float __attribute__((vector_size(4 * lanes), aligned(4), may_alias));
using Four = double __attribute__((vector_size(4 * lanes), aligned(8), may_alias));
using FourSingle = float __attribute__((vector_size(2 * lanes), aligned(4), may_alias));
constexpr std::size_t half_lanes = lanes / 2;

[[gnu::always_inline]] inline Eight eight(const float* p) {
  return *reinterpret_cast<const Eight*>(p);
}
[[gnu::always_inline]] inline Eight eight(const double* p) {
  const FourSingle low = __builtin_convertvector(*reinterpret_cast<const Four*>(p), FourSingle);
  const FourSingle high =
      __builtin_convertvector(*reinterpret_cast<const Four*>(p + half_lanes), FourSingle);
  return __builtin_shufflevector(low, high, 0, 1, 2, 3, 4, 5, 6, 7);
}
[[gnu::always_inline]] inline void put(float* p, const Eight& v) {
  *reinterpret_cast<Eight*>(p) = v;
}
[[gnu::always_inline]] inline Four four(const double* p) {
  return *reinterpret_cast<const Four*>(p);
}

// Even and odd lanes of sixteen numbers, and back.
[[gnu::always_inline]] inline Eight evens(const Eight& low, const Eight& high) {
  return __builtin_shufflevector(low, high, 0, 2, 4, 6, 8, 10, 12, 14);
}
[[gnu::always_inline]] inline Eight odds(const Eight& low, const Eight& high) {
  return __builtin_shufflevector(low, high, 1, 3, 5, 7, 9, 11, 13, 15);
}
[[gnu::always_inline]] inline Eight woven_low(const Eight& even, const Eight& odd) {
  return __builtin_shufflevector(even, odd, 0, 8, 1, 9, 2, 10, 3, 11);
}
[[gnu::always_inline]] inline Eight woven_high(const Eight& even, const Eight& odd) {
  return __builtin_shufflevector(even, odd, 4, 12, 5, 13, 6, 14, 7, 15);
}
// One lane on: the first of `next` comes last; the last of `before` comes first.
[[gnu::always_inline]] inline Eight moved_down(const Eight& v, const Eight& next) {
  return __builtin_shufflevector(v, next, 1, 2, 3, 4, 5, 6, 7, 8);
}
[[gnu::always_inline]] inline Eight moved_up(const Eight& before, const Eight& v) {
  return __builtin_shufflevector(before, v, 7, 8, 9, 10, 11, 12, 13, 14);
}

// Calls with the panel's registers as a constant, so that rows unroll and stay in registers.
template <typename Call>
[[gnu::always_inline]] inline auto with_registers(std::size_t registers, Call call) {
  switch (registers) {
    case 1:
      return call(std::integral_constant<int, 1>{});
    case 2:
      return call(std::integral_constant<int, 2>{});
    case 3:
      return call(std::integral_constant<int, 3>{});
    case 4:
      return call(std::integral_constant<int, 4>{});
    default:
      return call(std::integral_constant<int, 5>{});
  }
}

}  // namespace
}  // namespace tabmelt::line_kernels
