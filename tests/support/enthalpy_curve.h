// Specific enthalpy h(T) of a metal with a melting range, h(T0) = 0, and its inverse:
//
//   solid   c = cs0 + cs1 (T - T0)
//   Ts..Tl  c = L/(Tl - Ts) + a straight line from cs(Ts) to cl
//   liquid  c = cl
//
// L is the heat in excess of the sensible heat: h(Tl) - h(Ts) = L + (cs(Ts) + cl)(Tl - Ts)/2.
// Source: Alexiades & Solomon, Mathematical Modeling of Melting and Freezing Processes (1993),
// chapter 4 (number from memory); each branch is a quadratic and is inverted in closed form.
#pragma once

namespace tabmelt::exact {

struct EnthalpyCurve {
  double T0 = 0;           // [K]
  double cs0 = 0;          // [J/kg/K]
  double cs1 = 0;          // [J/kg/K^2]
  double solidus = 0;      // Ts [K]
  double liquidus = 0;     // Tl [K]
  double latent_heat = 0;  // L [J/kg]
  double cl = 0;           // [J/kg/K]

  double enthalpy(double T) const;     // [J/kg]
  double temperature(double h) const;  // [K]
};

}  // namespace tabmelt::exact
