// Solid cylinders 0 < r < R whose surface is held at zero from t = 0 on, Fo = alpha t/R^2,
// b_n the zeros of J0:
//
//   infinite, theta = 1 at t = 0:
//     theta = Sum_n 2 exp(-b_n^2 Fo) J0(b_n r/R)/(b_n J1(b_n)),  mean = Sum_n 4 exp(-b_n^2
//     Fo)/b_n^2
//   finite, |z| < H, all faces at zero: theta_cylinder(r, t) theta_slab(z, t)
//   heat source g [W/m^3] from t = 0, T = 0 at t = 0:
//     T = g (R^2 - r^2)/(4k) - (2 g R^2/k) Sum_n exp(-b_n^2 Fo) J0(b_n r/R)/(b_n^3 J1(b_n))
//
// Source: Carslaw & Jaeger, 2nd ed. (1959), sections 7.6 (series), 7.9 (heat production),
// 1.15 (product rule); section numbers from memory.
//
// The table of zeros ends at b = 1256: theta throws std::domain_error below Fo = 3e-5.
//
// Two coaxial shells r1 < r < r2 (k1) and r2 < r < r3 (k2), contact conductance h at r2, dT
// across: heat per length q = 2 pi dT/(ln(r2/r1)/k1 + 1/(h r2) + ln(r3/r2)/k2).
// Source: Carslaw & Jaeger, section 7.2 (number from memory).
#pragma once

#include "tests/support/uniform_solid.h"

namespace tabmelt::exact {

struct QuenchedCylinder {
  UniformSolid solid;
  double radius = 0;  // R [m]

  double theta(double r, double t) const;  // [1]
  double mean_theta(double t) const;       // [1]
};

struct QuenchedShortCylinder {
  UniformSolid solid;
  double radius = 0;       // R [m]
  double half_height = 0;  // H [m]

  double theta(double r, double z, double t) const;  // [1], z from the mid-plane
};

struct HeatedCylinder {
  UniformSolid solid;
  double radius = 0;  // R [m]
  double source = 0;  // g [W/m^3]

  double rise(double r, double t) const;  // [K]
  double steady_rise(double r) const;     // [K]
};

struct CoaxialShells {
  double r1 = 0, r2 = 0, r3 = 0;  // [m]
  double k1 = 0, k2 = 0;          // [W/m/K]
  double conductance = 0;         // h [W/m^2/K] at r2

  double heat_per_length(double temperature_difference) const;  // [W/m]
};

}  // namespace tabmelt::exact
