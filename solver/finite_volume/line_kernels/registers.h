// Vector registers of the panel kernels. Included into the body of each kernel set only.
#pragma once

#include <cstring>
#include <type_traits>

#include "solver/finite_volume/line_kernels/kernels.h"

namespace tabmelt::line_kernels {
namespace {

// Eight neighbours of a row; four in double precision.
using Eight = float __attribute__((vector_size(4 * lanes)));
using Four = double __attribute__((vector_size(4 * lanes)));
using FourSingle = float __attribute__((vector_size(2 * lanes)));
constexpr std::size_t half_lanes = lanes / 2;

// From and to anywhere in memory: a copy is one move of a register that need not be aligned, while
// clang overlooks an attribute that lowers the alignment of a vector behind a pointer.
template <typename Vector, typename Number>
[[gnu::always_inline]] inline Vector loaded(const Number* p) {
  Vector v;
  std::memcpy(&v, p, sizeof v);
  return v;
}
[[gnu::always_inline]] inline Eight eight(const float* p) { return loaded<Eight>(p); }
[[gnu::always_inline]] inline Four four(const double* p) { return loaded<Four>(p); }
[[gnu::always_inline]] inline Eight eight(const double* p) {
  const FourSingle low = __builtin_convertvector(four(p), FourSingle);
  const FourSingle high = __builtin_convertvector(four(p + half_lanes), FourSingle);
  return __builtin_shufflevector(low, high, 0, 1, 2, 3, 4, 5, 6, 7);
}
[[gnu::always_inline]] inline void put(float* p, const Eight& v) { std::memcpy(p, &v, sizeof v); }
[[gnu::always_inline]] inline void put(double* p, const Four& v) { std::memcpy(p, &v, sizeof v); }

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
