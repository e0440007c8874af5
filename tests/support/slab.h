// Slabs of finite thickness.
//
// Quenched slab -L < x < L, theta = 1 at t = 0, theta = 0 on both faces, Fo = alpha t/L^2:
//   theta = (4/pi) Sum_n ((-1)^n/(2n+1)) exp(-(2n+1)^2 pi^2 Fo/4) cos((2n+1) pi x/(2L))
//   mean  = Sum_n (8/((2n+1)^2 pi^2)) exp(-(2n+1)^2 pi^2 Fo/4)
// Source: Carslaw & Jaeger, 2nd ed. (1959), section 3.3 (number from memory).
//
// Flash-heated wall 0 < x < L, insulated, energy Q put into the face x = 0 at t = 0:
//   T = (Q/(rho c L)) [1 + 2 Sum_n cos(n pi x/L) exp(-n^2 pi^2 Fo)]
//     = (Q/(rho c sqrt(pi alpha t))) Sum_{m=-inf..inf} exp(-(x + 2 m L)^2/(4 alpha t))
// (images; used for Fo < 0.2, where the first series converges slowly).
// Source: Parker et al., J. Appl. Phys. 32 (1961) 1679; Carslaw & Jaeger, chapter 14.
// The rear face reaches half its final rise at Fo = 0.138785; the figure 1.38/pi^2 = 0.1398
// printed by Parker et al. is a rounding of it.
//
// Slab 0 < x < L, flux q into x = 0 for 0 < t < tp, x = L insulated: T = f(t) - f(t - tp),
//   f = (q L/k) [Fo + (3 (1 - x/L)^2 - 1)/6 - (2/pi^2) Sum_n cos(n pi x/L)/n^2 exp(-n^2 pi^2 Fo)]
// Source: Carslaw & Jaeger, section 3.8 (number from memory).
#pragma once

#include "tests/support/uniform_solid.h"

namespace tabmelt::exact {

struct QuenchedSlab {
  UniformSolid solid;
  double half_thickness = 0;  // L [m]

  double theta(double x, double t) const;  // [1], x from the mid-plane
  double mean_theta(double t) const;       // [1]
};

struct FlashHeatedWall {
  UniformSolid solid;
  double thickness = 0;  // L [m]
  double energy = 0;     // Q [J/m^2]

  double rise(double x, double t) const;  // [K]
  double half_rise_time() const;          // [s], of the face x = L
};

struct PulseHeatedSlab {
  UniformSolid solid;
  double thickness = 0;  // L [m]
  double flux = 0;       // q [W/m^2]
  double duration = 0;   // tp [s]

  double rise(double x, double t) const;  // [K]
};

}  // namespace tabmelt::exact
