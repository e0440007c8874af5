// Two bodies in thermal contact.
//
// Two layers, interface conductance h, outer faces held at Ta and Tb:
//   q = (Ta - Tb)/(L1/k1 + 1/h + L2/k2)
//
// Two half-spaces at T1 and T2 that touch at t = 0, e_i = sqrt(k_i rho_i c_i):
//   perfect contact:  interface at (e1 T1 + e2 T2)/(e1 + e2) for ever, each side an erfc
//   conductance h, with H = h (e1 + e2)/(e1 e2), u = x/(2 sqrt(alpha_i t)), x from the interface:
//     flux 1 -> 2  j = h (T1 - T2) erfcx(H sqrt t)
//     body 1       T = T1 - (T1 - T2) e2/(e1 + e2) F
//     body 2       T = T2 + (T1 - T2) e1/(e1 + e2) F
//     F = erfc(u) - exp(-u^2) erfcx(u + H sqrt t)
//
// Plane heat source q at a perfect interface of half-spaces: both faces rise by
//   2 q sqrt(t/pi)/(e1 + e2); body i takes the share e_i/(e1 + e2).
//
// Source: Carslaw & Jaeger, 2nd ed. (1959), sections 3.2 (layers) and 2.14-2.15 (composite
// solids); the finite conductance follows from the same Laplace transform with j = h (T1 - T2) at
// the interface, the plane source from equal surface temperatures of two flux-heated half-spaces
// (section 2.9). Section numbers from memory.
#pragma once

#include "tests/support/uniform_solid.h"

namespace tabmelt::exact {

struct LayeredWall {
  double L1 = 0, k1 = 0;   // [m], [W/m/K]
  double L2 = 0, k2 = 0;   // [m], [W/m/K]
  double conductance = 0;  // h [W/m^2/K]
  double Ta = 0, Tb = 0;   // [K]

  double flux() const;                     // [W/m^2], from a to b
  double first_face_temperature() const;   // [K], side 1 of the interface
  double second_face_temperature() const;  // [K], side 2 of the interface
};

struct TouchingBodies {
  UniformSolid first, second;
  double T1 = 0, T2 = 0;   // [K]
  double conductance = 0;  // h [W/m^2/K]; infinity: perfect contact

  double flux(double t) const;                          // [W/m^2], from 1 to 2; finite h only
  double first_temperature(double x, double t) const;   // [K], x >= 0 into body 1
  double second_temperature(double x, double t) const;  // [K], x >= 0 into body 2
  double perfect_contact_temperature() const;           // [K]
};

// [K], heat source q [W/m^2] between two half-spaces
double plane_source_rise(const UniformSolid& first, const UniformSolid& second, double q, double t);
// [1], part of it that enters the first
double plane_source_share(const UniformSolid& first, const UniformSolid& second);

}  // namespace tabmelt::exact
