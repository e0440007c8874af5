#include "tests/support/enthalpy_curve.h"

#include <cmath>

namespace tabmelt::exact {
namespace {

// x of c x + s x^2/2 = h, without cancellation for small s
double branch_inverse(double c, double s, double h) {
  return 2 * h / (c + std::sqrt(c * c + 2 * s * h));
}

}  // namespace

double EnthalpyCurve::enthalpy(double T) const {
  if (T <= solidus) {
    const double x = T - T0;
    return cs0 * x + cs1 * x * x / 2;
  }
  if (T >= liquidus) {
    const double cs = cs0 + cs1 * (solidus - T0);
    return enthalpy(solidus) + latent_heat + (cs + cl) / 2 * (liquidus - solidus) +
           cl * (T - liquidus);
  }
  const double cs = cs0 + cs1 * (solidus - T0), width = liquidus - solidus, x = T - solidus;
  return enthalpy(solidus) + (latent_heat / width + cs) * x + (cl - cs) / width * x * x / 2;
}

double EnthalpyCurve::temperature(double h) const {
  const double h_solidus = enthalpy(solidus), h_liquidus = enthalpy(liquidus);
  if (h <= h_solidus) {
    return T0 + branch_inverse(cs0, cs1, h);
  }
  if (h >= h_liquidus) {
    return liquidus + (h - h_liquidus) / cl;
  }
  const double cs = cs0 + cs1 * (solidus - T0), width = liquidus - solidus;
  return solidus + branch_inverse(latent_heat / width + cs, (cl - cs) / width, h - h_solidus);
}

}  // namespace tabmelt::exact
