// Semi-infinite solid x > 0, temperature rise T over its initial state, alpha = k/(rho c),
// e = sqrt(k rho c), u = x/(2 sqrt(alpha t)).
//
//   surface flux q             T = (2 q sqrt(alpha t)/k) ierfc(u)
//   flux q for 0 < t < tp      T(t) - T(t - tp)
//   surface step to Ts         T = Ts erfc(u),  flux in k Ts/sqrt(pi alpha t),
//                              heat taken up 2 k Ts sqrt(t/(pi alpha))
//   convection to fluid Tf     T/Tf = erfc(u) - exp(-u^2) erfcx(u + h sqrt(alpha t)/k)
//
// Source: Carslaw & Jaeger, 2nd ed. (1959), sections 2.9 (flux), 2.5 (step), 2.7 (convection);
// section numbers from memory.
#pragma once

#include "tests/support/uniform_solid.h"

namespace tabmelt::exact::half_space {

// q [W/m^2], x [m], t > 0 [s]; result [K]
double rise_under_flux(const UniformSolid& solid, double q, double x, double t);
// duration tp [s]
double rise_under_pulse(const UniformSolid& solid, double q, double tp, double x, double t);
// Ts [K] above the initial temperature
double rise_under_step(const UniformSolid& solid, double Ts, double x, double t);
double flux_under_step(const UniformSolid& solid, double Ts, double t);  // [W/m^2]
double heat_under_step(const UniformSolid& solid, double Ts, double t);  // [J/m^2]
// h [W/m^2/K], Tf [K] above the initial temperature
double rise_under_convection(const UniformSolid& solid, double h, double Tf, double x, double t);

}  // namespace tabmelt::exact::half_space
