#include "tests/support/half_space.h"

#include <cmath>

#include "solver/material/constants.h"
#include "tests/support/special_functions.h"

namespace tabmelt::exact::half_space {

using constants::pi;

double rise_under_flux(const UniformSolid& solid, double q, double x, double t) {
  const double w = 2 * std::sqrt(solid.diffusivity() * t);
  return q * w / solid.conductivity * ierfc(x / w);
}

double rise_under_pulse(const UniformSolid& solid, double q, double tp, double x, double t) {
  const double heated = rise_under_flux(solid, q, x, t);
  return t > tp ? heated - rise_under_flux(solid, q, x, t - tp) : heated;
}

double rise_under_step(const UniformSolid& solid, double Ts, double x, double t) {
  return Ts * std::erfc(x / (2 * std::sqrt(solid.diffusivity() * t)));
}

double flux_under_step(const UniformSolid& solid, double Ts, double t) {
  return solid.conductivity * Ts / std::sqrt(pi * solid.diffusivity() * t);
}

double heat_under_step(const UniformSolid& solid, double Ts, double t) {
  return 2 * solid.conductivity * Ts * std::sqrt(t / (pi * solid.diffusivity()));
}

double rise_under_convection(const UniformSolid& solid, double h, double Tf, double x, double t) {
  const double depth = std::sqrt(solid.diffusivity() * t);
  const double u = x / (2 * depth);
  return Tf * (std::erfc(u) - std::exp(-u * u) * erfcx(u + h * depth / solid.conductivity));
}

}  // namespace tabmelt::exact::half_space
