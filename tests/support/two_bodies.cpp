#include "tests/support/two_bodies.h"

#include <cmath>

#include "solver/material/constants.h"
#include "tests/support/special_functions.h"

namespace tabmelt::exact {
namespace {

// H = h (e1 + e2)/(e1 e2) [1/sqrt(s)]
double contact_rate(const TouchingBodies& b) {
  const double e1 = b.first.effusivity(), e2 = b.second.effusivity();
  return b.conductance * (e1 + e2) / (e1 * e2);
}

// F of the header; erfcx vanishes for a perfect contact.
double approach(const TouchingBodies& b, const UniformSolid& side, double x, double t) {
  const double u = x / (2 * std::sqrt(side.diffusivity() * t));
  return std::erfc(u) - std::exp(-u * u) * erfcx(u + contact_rate(b) * std::sqrt(t));
}

}  // namespace

double LayeredWall::flux() const { return (Ta - Tb) / (L1 / k1 + 1 / conductance + L2 / k2); }

double LayeredWall::first_face_temperature() const { return Ta - flux() * L1 / k1; }

double LayeredWall::second_face_temperature() const { return Tb + flux() * L2 / k2; }

double TouchingBodies::flux(double t) const {
  return conductance * (T1 - T2) * erfcx(contact_rate(*this) * std::sqrt(t));
}

double TouchingBodies::first_temperature(double x, double t) const {
  const double e1 = first.effusivity(), e2 = second.effusivity();
  return T1 - (T1 - T2) * e2 / (e1 + e2) * approach(*this, first, x, t);
}

double TouchingBodies::second_temperature(double x, double t) const {
  const double e1 = first.effusivity(), e2 = second.effusivity();
  return T2 + (T1 - T2) * e1 / (e1 + e2) * approach(*this, second, x, t);
}

double TouchingBodies::perfect_contact_temperature() const {
  const double e1 = first.effusivity(), e2 = second.effusivity();
  return (e1 * T1 + e2 * T2) / (e1 + e2);
}

double plane_source_rise(const UniformSolid& first, const UniformSolid& second, double q,
                         double t) {
  return 2 * q * std::sqrt(t / constants::pi) / (first.effusivity() + second.effusivity());
}

double plane_source_share(const UniformSolid& first, const UniformSolid& second) {
  return first.effusivity() / (first.effusivity() + second.effusivity());
}

}  // namespace tabmelt::exact
