#include "solver/material/sei_damage.h"

#include <cmath>

#include "solver/material/constants.h"

namespace tabmelt {

namespace {
constexpr double frequency_factor = 1.667e15;   // [1/s]
constexpr double activation_energy = 1.3508e5;  // [J/mol]
}  // namespace

double sei_damage_rate(double T) {
  if (T <= 0) return 0;
  return frequency_factor * std::exp(-activation_energy / (constants::gas_constant * T));
}

// expm1 keeps the digits of the tiny damages that are the usual case.
double sei_damage(double exposure) { return -std::expm1(-exposure); }

}  // namespace tabmelt
