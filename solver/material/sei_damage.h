// How fast the SEI (the protective film on the graphite of a lithium-ion cell) decomposes: a
// first-order Arrhenius reaction,
//
//   dx/dt = -k(T) x,   k(T) = A exp(-Ea / (R T)),   damage = 1 - x/x0 = 1 - exp(-int k dt)
//
//   x  what is left of the film [1]         k   rate [1/s]        T  temperature [K]
//   A  1.667e15 1/s                         Ea  1.3508e5 J/mol    R  gas constant [J/mol/K]
//
// Constants: Hatchard, MacNeil, Basu, Dahn, J. Electrochem. Soc. 148 (2001) A755; Kim, Pesaran,
// Spotnitz, J. Power Sources 170 (2007) 476; repeated in Hu et al., ACS Omega (2020), doi
// 10.1021/acsomega.0c01862. They were fitted to slow calorimetry at 80-200 C. Below that the rate
// is too small to matter within a weld; above it, and for exposures of milliseconds, the formula
// is an extrapolation: a figure to compare settings with, not a measured loss of life.
#pragma once

namespace tabmelt {

inline constexpr double sei_fitted_from = 353.15;  // [K] range of the measurements behind k(T)
inline constexpr double sei_fitted_to = 473.15;    // [K]

// k(T) [1/s]; T in kelvin, 0 for T <= 0.
double sei_damage_rate(double T);

// Fraction of the film decomposed [1] after int k dt = `exposure` [1].
double sei_damage(double exposure);

}  // namespace tabmelt
