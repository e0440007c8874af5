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
//
// A piece of any metal, from its cold values, its resistivity rising as rho0 [1 + a (T - T0)]:
//   c dT/dt = rho0 [1 + a (T - T0)] (i/S)^2
//   T - T0 = (1/a) {exp[a rho0 int i^2 dt/(c S^2)] - 1}        rho0 int i^2 dt/(c S^2) for a = 0
//   a  temperature coefficient at T0 [1/K]    c  heat capacity per volume at T0 [J/m^3/K]
// which is the equation of IEC 60949 with a = 1/(beta + T0). Its steady rise takes it as round: a
// flat bar has more surface and stays cooler.
#pragma once

#include <optional>
#include <string>

#include "solver/circuit/circuit.h"

namespace tabmelt::circuit {

// [K] above `start` [K], for "copper" or "aluminium". Throws std::invalid_argument for another
// material or a cross-section that is not positive.
double pulse_temperature_rise(const std::string& material, double cross_section,
                              double square_current_time, double start);

// [K] once warm. weld_rate [1/s].
double steady_temperature_rise(double resistance_per_metre, double cross_section,
                               double square_current_time, double weld_rate);

// What a piece, or all alike of its kind, bears.
struct PieceLoad {
  double pulse_energy = 0;            // [J] all of them, in one pulse, at the cold resistance
  std::optional<double> pulse_rise;   // [K] in one pulse; nothing without a heat capacity
  std::optional<double> mean_power;   // [W] all of them at the rate of welds
  std::optional<double> steady_rise;  // [K] at the rate of welds, once warm
};
// weld_rate [1/s]. Throws std::invalid_argument for a cross-section that is not positive.
PieceLoad piece_load(const Piece&, double square_current_time, std::optional<double> weld_rate);

}  // namespace tabmelt::circuit
