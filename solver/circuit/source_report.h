// What a pulse asked of its source: the figures a builder compares with data sheets.
//
// Series parts of a bank carry the same charge, so the one of least capacitance sees the highest
// voltage. With a spread of +-x and n parts in series, worst case one part at (1 - x) among n - 1
// at (1 + x):
//   V_part = V / [1 + (n - 1) (1 - x)/(1 + x)]          (V/n without spread)
// With balancing that leaves a margin m:  V_part = (1 + m) V/n  instead.
// Parallel strings share the current evenly if alike; with a spread of their resistance the worst
// one carries more (circuit/capacitor.h).
#pragma once

#include <optional>

#include "solver/circuit/circuit.h"

namespace tabmelt::circuit {

// What happened during the run.
struct SourceRecord {
  double peak_current = 0;    // [A] largest magnitude
  double lowest_voltage = 0;  // [V] of the store, behind the internal resistance
  double final_voltage = 0;   // [V] likewise, at the end
};

struct SourceReport {
  bool is_bank = false;          // the capacitor figures below apply
  double stored_energy = 0;      // [J] at the start; bank, output capacitor of a supply
  double energy_left = 0;        // [J] at the end; bank only
  double droop = 0;              // [1] bank: voltage lost over its charge; battery and supply:
                                 //     largest drop over the voltage without load
  double surge = 0;              // [A] of an output capacitor, above the supply's limit
  double peak_current = 0;       // [A]
  double peak_part_current = 0;  // [A] of one string (bank) or the whole battery
  bool current_exceeded = false;
  double worst_part_current = 0;  // [A] one string, worst spread of the resistance
  bool worst_current_exceeded = false;
  double part_voltage = 0;              // [V] one capacitor, all alike
  double worst_part_voltage = 0;        // [V] one capacitor, worst spread
  bool voltage_exceeded = false;        // even with all parts alike
  bool worst_voltage_exceeded = false;  // with the worst spread
  double reverse_voltage = 0;  // [V] deepest negative voltage of the bank, as a positive number
  double reverse_part_voltage = 0;  // [V] worst part, same spread
  double least_energy = 0;          // [J] stored at the charge voltage, all parts at the low end
  double most_energy = 0;           // [J] at the high end
};

// Prescribed currents have no store: only the peak current is filled in.
// Throws std::invalid_argument unless 0 <= tolerance < 1.
SourceReport source_report(const Circuit&, const SourceRecord&);

// The worst part of a bank at a voltage [V] of the whole bank, by balancing or by spread.
double worst_part_voltage(const CapacitorBank&, double voltage);

// Voltage of the worst of `series` parts when the string carries `voltage` [V].
double worst_part_voltage(double voltage, int series, double tolerance);

// The loop opened into a freewheel path: diode of constant drop V_d [V] and resistance R_f [ohm]
// in series with the loop's L,
//   i = (I + V_d/R_f) exp(-R_f t/L) - V_d/R_f,   zero at (L/R_f) ln(1 + I R_f/V_d).
struct Freewheel {
  double time = 0;          // [s] until the current has died
  double diode_energy = 0;  // [J]
};
// Throws std::invalid_argument unless current >= 0, L >= 0, R_f >= 0 and V_d > 0.
Freewheel freewheel(double inductance, double current, double resistance, double diode_drop);

}  // namespace tabmelt::circuit
