#include "tests/support/disk_source.h"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/special_functions/ellint_1.hpp>
#include <boost/math/special_functions/ellint_2.hpp>
#include <cmath>

#include "solver/material/constants.h"
#include "tests/support/special_functions.h"

namespace tabmelt::exact {
namespace {

using boost::math::cyl_bessel_j;
using constants::pi;

// Int_0^inf f(x) erfc(x s) dx; erfc is below 1e-17 of its start beyond x s = 6. The range is
// cut into pieces of about one oscillation of the fastest Bessel function (1 + r/a).
template <class Function>
double integral_with_erfc(Function f, double s, double frequency) {
  using boost::math::quadrature::gauss_kronrod;
  const double end = 6 / s;
  const int pieces = 1 + static_cast<int>(end * frequency / (2 * pi));
  double sum = 0;
  for (int i = 0; i < pieces; ++i) {
    sum += gauss_kronrod<double, 31>::integrate([&](double x) { return f(x) * std::erfc(x * s); },
                                                end * i / pieces, end * (i + 1) / pieces, 6, 1e-13);
  }
  return sum;
}

}  // namespace

double DiskSource::axis_rise(double z, double t) const {
  const double w = 2 * std::sqrt(solid.diffusivity() * t);
  return flux * w / solid.conductivity * (ierfc(z / w) - ierfc(std::hypot(z, radius) / w));
}

double DiskSource::surface_rise(double r, double t) const {
  const double ratio = r / radius;
  const double missing = integral_with_erfc(
      [=](double x) { return x == 0 ? 0.5 : cyl_bessel_j(0, x * ratio) * cyl_bessel_j(1, x) / x; },
      std::sqrt(solid.diffusivity() * t) / radius, 1 + ratio);
  return steady_surface_rise(r) - flux * radius / solid.conductivity * missing;
}

double DiskSource::mean_rise(double t) const {
  const double missing = integral_with_erfc(
      [](double x) {
        const double j = x == 0 ? 0.5 : cyl_bessel_j(1, x) / x;
        return j * j;
      },
      std::sqrt(solid.diffusivity() * t) / radius, 2);
  return steady_mean_rise() - 2 * flux * radius / solid.conductivity * missing;
}

double DiskSource::steady_surface_rise(double r) const {
  const double scale = 2 * flux / (pi * solid.conductivity);
  if (r <= radius) {
    return scale * radius * boost::math::ellint_2(r / radius);
  }
  const double m = radius / r;
  return scale * r * (boost::math::ellint_2(m) - (1 - m * m) * boost::math::ellint_1(m));
}

double DiskSource::steady_mean_rise() const {
  return 8 * flux * radius / (3 * pi * solid.conductivity);
}

}  // namespace tabmelt::exact
