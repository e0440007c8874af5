#include "tests/support/cylinder.h"

#include <boost/math/special_functions/bessel.hpp>
#include <cmath>
#include <stdexcept>

#include "solver/material/constants.h"
#include "tests/support/slab.h"
#include "tests/support/special_functions.h"

namespace tabmelt::exact {
namespace {

using boost::math::cyl_bessel_j;
using constants::pi;

// Sum_n term(b_n) exp(-b_n^2 Fo) over the zeros of J0, until the exponential is below 3e-20.
template <class Term>
double zero_sum(double Fo, Term term) {
  double sum = 0;
  for (const double b : zeros_of_j0()) {
    if (b * b * Fo > 45) {
      return sum;
    }
    sum += term(b) * std::exp(-b * b * Fo);
  }
  throw std::domain_error("exact cylinder: alpha t/R^2 is below 3e-5");
}

double fourier_number(const UniformSolid& solid, double radius, double t) {
  return solid.diffusivity() * t / (radius * radius);
}

}  // namespace

double QuenchedCylinder::theta(double r, double t) const {
  return zero_sum(fourier_number(solid, radius, t), [&](double b) {
    return 2 * cyl_bessel_j(0, b * r / radius) / (b * cyl_bessel_j(1, b));
  });
}

double QuenchedCylinder::mean_theta(double t) const {
  return zero_sum(fourier_number(solid, radius, t), [](double b) { return 4 / (b * b); });
}

double QuenchedShortCylinder::theta(double r, double z, double t) const {
  return QuenchedCylinder{solid, radius}.theta(r, t) * QuenchedSlab{solid, half_height}.theta(z, t);
}

double HeatedCylinder::rise(double r, double t) const {
  const double sum = zero_sum(fourier_number(solid, radius, t), [&](double b) {
    return cyl_bessel_j(0, b * r / radius) / (b * b * b * cyl_bessel_j(1, b));
  });
  return steady_rise(r) - 2 * source * radius * radius / solid.conductivity * sum;
}

double HeatedCylinder::steady_rise(double r) const {
  return source * (radius * radius - r * r) / (4 * solid.conductivity);
}

double CoaxialShells::heat_per_length(double temperature_difference) const {
  return 2 * pi * temperature_difference /
         (std::log(r2 / r1) / k1 + 1 / (conductance * r2) + std::log(r3 / r2) / k2);
}

}  // namespace tabmelt::exact
