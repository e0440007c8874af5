// Warming of leads, bars and rods.
//
// During one pulse nothing leaves the metal (adiabatic), IEC 60949:1988, clause 3:
//   int i^2 dt = K^2 S^2 ln[(T1 + beta)/(T0 + beta)],   K = sqrt(s_c (beta + 20) / rho20)
//   T in C; S cross-section; s_c volumetric heat capacity at 20 C; beta reciprocal of the
//   temperature coefficient of resistance at 0 C
// IEC 60949 table 1: copper K = 226 A s^(1/2)/mm^2, beta = 234.5; aluminium K = 148, beta = 228.
//
// At a steady rate of welds the mean power leaves through the surface of the bare conductor:
//   rise = R' f int i^2 dt / (h pi d)
//   R' resistance per metre [ohm/m], f welds per second, d its diameter [m]
//   h = 10 W/m^2/K, natural convection and radiation in still air; engineering judgement
// R' is taken cold; the insulation, which adds surface, is left out.
#pragma once

#include <string>

namespace tabmelt::circuit {

// [K] above `start` [K], for "copper" or "aluminium". Throws std::invalid_argument for another
// material or a cross-section that is not positive.
double pulse_temperature_rise(const std::string& material, double cross_section,
                              double square_current_time, double start);

// [K] once warm. weld_rate [1/s].
double steady_temperature_rise(double resistance_per_metre, double cross_section,
                               double square_current_time, double weld_rate);

}  // namespace tabmelt::circuit
