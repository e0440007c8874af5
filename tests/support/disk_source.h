// Uniform flux q over the disk r < a on the surface of the half-space z > 0, the rest of the
// surface insulated, rise from zero. With w = 2 sqrt(alpha t):
//
//   axis     T(0,z,t) = (q w/k) [ierfc(z/w) - ierfc(sqrt(z^2 + a^2)/w)]
//   surface  T(r,0,t) = (q a/k) Int_0^inf J0(x r/a) J1(x) erf(x sqrt(alpha t)/a) dx/x
//   mean     Tm(t)    = (2 q a/k) Int_0^inf J1(x)^2 erf(x sqrt(alpha t)/a) dx/x^2
//   steady   r < a: (2 q a/(pi k)) E(r/a);   r > a, with m = a/r:
//            (2 q r/(pi k)) [E(m) - (1 - m^2) K(m)];   mean 8 q a/(3 pi k)
//
// K, E complete elliptic integrals of modulus m. The transients are evaluated as the steady
// state minus the same integral over erfc = 1 - erf, which converges like exp(-x^2).
// The steady state is reached only as t^(-1/2).
//
// Source: Carslaw & Jaeger, 2nd ed. (1959), section 10.5 (number from memory); the mean follows
// from averaging the surface integral over the disk.
#pragma once

#include "tests/support/uniform_solid.h"

namespace tabmelt::exact {

struct DiskSource {
  UniformSolid solid;
  double flux = 0;    // q [W/m^2]
  double radius = 0;  // a [m]

  double axis_rise(double z, double t) const;     // [K]
  double surface_rise(double r, double t) const;  // [K]
  double mean_rise(double t) const;               // [K], over the disk
  double steady_surface_rise(double r) const;     // [K]
  double steady_mean_rise() const;                // [K]
};

}  // namespace tabmelt::exact
