// Constants of nature. CODATA 2018 where measured; the Sommerfeld value of the Lorenz number
// follows from k_B and e: L = (pi^2/3) (k_B/e)^2.
#pragma once

namespace tabmelt::constants {

inline constexpr double pi = 3.14159265358979323846;
inline constexpr double mu0 = 1.25663706212e-6;             // [H/m] CODATA 2018
inline constexpr double lorenz = 2.443004509e-8;            // [V^2/K^2] Sommerfeld
inline constexpr double gas_constant = 8.314462618;         // [J/mol/K] CODATA 2018
inline constexpr double stefan_boltzmann = 5.670374419e-8;  // [W/m^2/K^4] CODATA 2018
inline constexpr double zero_celsius = 273.15;              // [K]

}  // namespace tabmelt::constants
