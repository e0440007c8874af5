// Data-sheet figures of capacitors.
#pragma once

#include <utility>
#include <vector>

#include "solver/circuit/circuit.h"

namespace tabmelt::circuit {

// Series resistance [ohm] from the dissipation factor tan d at a frequency [Hz], usually 120 Hz:
//   ESR = tan d / (2 pi f C)                                   definition, IEC 60384-4
// Throws std::invalid_argument unless all are positive (tan d may be 0).
double esr_from_dissipation(double dissipation_factor, double capacitance, double frequency = 120);

// ESR at a temperature over its data-sheet value, from pairs (temperature [K], factor) of
// increasing temperature: straight lines between them, the end values beyond. 1 for an empty list.
double esr_factor_at(const std::vector<std::pair<double, double>>& table, double temperature);

// Current [A] of the string that carries most when `parallel` strings carry `current`. With a
// spread of +-x of their resistance, worst case one string at (1 - x) beside n - 1 at (1 + x);
// each carries in proportion to its conductance:
//   I_string = I / [1 + (n - 1) (1 - x)/(1 + x)]               (I/n without spread)
// Throws std::invalid_argument unless parallel >= 1 and 0 <= x < 1.
double largest_string_current(double current, int parallel, double esr_spread);

// What one part of a bank bears at `rate` welds per second, discharge and charging together:
//   I_rms = sqrt(f int i^2 dt)/n      P = ESR I_rms^2      rise = P R_th
//   int i^2 dt of the whole bank, discharge + charging [A^2 s]; n strings in parallel, all alike
struct PartLoad {
  double ripple_current = 0;  // [A] r.m.s.
  double power = 0;           // [W]
  double rise = 0;            // [K] over the air; 0 without a thermal resistance
};
PartLoad part_load(const CapacitorBank&, double square_current_time, double rate);

}  // namespace tabmelt::circuit
