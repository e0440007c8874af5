// The root of a continuous function between two points where it has opposite signs, to the last
// bits of a double (Boost's TOMS 748). Throws boost::math::evaluation_error (a std::runtime_error)
// when the signs agree.
#pragma once

#include <boost/math/tools/roots.hpp>
#include <cstdint>

namespace tabmelt::exact {

template <class Function>
double root(Function f, double low, double high) {
  std::uintmax_t iterations = 200;
  const auto [left, right] = boost::math::tools::toms748_solve(
      f, low, high, boost::math::tools::eps_tolerance<double>(52), iterations);
  return 0.5 * (left + right);
}

}  // namespace tabmelt::exact
