#include "tests/support/special_functions.h"

#include <boost/math/special_functions/bessel.hpp>
#include <cmath>
#include <iterator>

#include "solver/material/constants.h"

namespace tabmelt::exact {
namespace {

using constants::pi;

// Below this the defining formulas lose at most a digit, above it the fraction converges fast.
constexpr double fraction_from = 2.5;

// w(x) of erfcx(x) = 1/(sqrt(pi) (x + w)), w = (1/2)/(x + (2/2)/(x + (3/2)/(x + ...))).
// From x = 2.5 on, 120 levels are enough for every digit of a double.
double fraction_tail(double x) {
  double w = 0;
  for (int level = 120; level >= 1; --level) {
    w = 0.5 * level / (x + w);
  }
  return w;
}

std::vector<double> bessel_zeros(double order, unsigned count) {
  std::vector<double> zeros;
  zeros.reserve(count);
  boost::math::cyl_bessel_j_zero(order, 1, count, std::back_inserter(zeros));
  return zeros;
}

}  // namespace

double erfcx(double x) {
  if (x < fraction_from) {
    return std::exp(x * x) * std::erfc(x);
  }
  return 1 / (std::sqrt(pi) * (x + fraction_tail(x)));
}

double ierfc(double x) {
  if (x < fraction_from) {
    return std::exp(-x * x) / std::sqrt(pi) - x * std::erfc(x);
  }
  const double w = fraction_tail(x);
  return std::exp(-x * x) / std::sqrt(pi) * w / (x + w);
}

const std::vector<double>& zeros_of_j0() {
  static const std::vector<double> zeros = bessel_zeros(0.0, 400);
  return zeros;
}

const std::vector<double>& zeros_of_j1() {
  static const std::vector<double> zeros = bessel_zeros(1.0, 4000);
  return zeros;
}

}  // namespace tabmelt::exact
