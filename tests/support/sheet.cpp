#include "tests/support/sheet.h"

#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/special_functions/zeta.hpp>
#include <cmath>

#include "solver/material/constants.h"

namespace tabmelt::exact::sheet {
namespace {

using boost::math::cyl_bessel_i;
using boost::math::cyl_bessel_k;
using constants::pi;

// I1(x) K1(x); Abramowitz & Stegun (1964), 9.7.5, where the factors would overflow.
double i1_k1(double x) {
  if (x < 60) {
    return cyl_bessel_i(1, x) * cyl_bessel_k(1, x);
  }
  const double y = 1 / (4 * x * x);
  return (1 - 1.5 * y * (1 + 3.75 * y * (1 + 17.5 * y))) / (2 * x);
}

}  // namespace

double through_spot(double rho, double t, double a, double R) {
  return rho * std::log(R / a) / (2 * pi * t);
}

double surface_spot(double rho, double t, double a, double R) {
  // Sum (1/mu^2) [1 - 2 I1 K1 - ...]: the slow parts 1/mu^2 and -1/(a mu^3) of the terms have
  // closed sums (t^2/6 and t^3 zeta(3)/(pi^3 a)); the rest falls off as n^-5.
  double sum = t * t / 6 - t * t * t * boost::math::zeta(3.0) / (pi * pi * pi * a);
  for (int n = 1; n <= 2000; ++n) {
    const double mu = n * pi / t;
    double bracket = 1 / (mu * a) - 2 * i1_k1(mu * a);
    if (mu * (R - a) < 40) {
      const double i1 = cyl_bessel_i(1, mu * a);
      bracket -= 2 * i1 * i1 * cyl_bessel_k(0, mu * R) / cyl_bessel_i(0, mu * R);
    }
    sum += bracket / (mu * mu);
  }
  return rho * ((std::log(R / a) + 0.25) / (2 * pi * t) + 2 / (pi * a * a * t) * sum);
}

double two_spots(double rho, double t, double a, double d) {
  return rho * std::acosh(d / (2 * a)) / (pi * t);
}

double rim_of_wide_sheet(double d, double a) { return d / 2 + std::sqrt(d * d / 4 - a * a); }

double rim_along_strip(double d, double w) { return w / pi * std::sinh(pi * d / w); }

double rim_across_strip(double d, double w) { return 2 * w / pi * std::tan(pi * d / (2 * w)); }

double rim_of_disk(double d, double b) { return d * (4 * b * b + d * d) / (4 * b * b - d * d); }

double StripOverCan::strip_share() const {
  const double X = std::acosh(d / (2 * a)) / pi;
  const double through_strip = strip * X, through_can = 2 * contact + can * X;
  return through_can / (through_strip + through_can);
}

double StripOverCan::resistance() const {
  return strip * std::acosh(d / (2 * a)) / pi * strip_share();
}

}  // namespace tabmelt::exact::sheet
