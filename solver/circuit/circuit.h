// What the pulse source delivers: one series loop
//
//   source -- leads -- joints -- switch -- load (the weld spots) -- back to source
//
//   L di/dt + R_loop i + U_load = v,     C dv/dt = -i  (bank)   or   v = V_oc  (battery)
//
//   v  source voltage behind its internal resistance [V]     i  current [A]
//   R_loop  internal resistance + leads + joints + switch [ohm]
//   L  leads + extra inductance [H]
//
// Plain values only; circuit/loop.h advances them.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace tabmelt::circuit {

struct CapacitorBank {
  double part_capacitance = 0;          // [F] one part
  double part_esr = 0;                  // [ohm] one part
  int series = 1;                       // parts in series per string
  int parallel = 1;                     // strings in parallel
  double charge_voltage = 0;            // [V] of the whole bank
  std::optional<double> rated_voltage;  // [V] one part
  std::optional<double> rated_current;  // [A] peak, one part
  double tolerance = 0.2;               // [1] spread of the part's capacitance

  double capacitance() const { return part_capacitance * parallel / series; }
  double resistance() const { return part_esr * series / parallel; }
  double stored_energy() const { return 0.5 * capacitance() * charge_voltage * charge_voltage; }
};

struct Battery {
  double open_circuit_voltage = 0;      // [V]
  double internal_resistance = 0;       // [ohm]
  std::optional<double> rated_current;  // [A] peak
};

// I(t) = peak * exp(-t / time_constant), t from the first closing of the switch.
struct ExponentialCurrent {
  double peak = 0;           // [A]
  double time_constant = 0;  // [s]
};

// Straight lines between points; zero before the first and after the last point.
struct TableCurrent {
  std::vector<double> time;     // [s] strictly increasing
  std::vector<double> current;  // [A]
};

using Source = std::variant<CapacitorBank, Battery, ExponentialCurrent, TableCurrent>;

// Two parallel round conductors, out and back.
struct Leads {
  std::string material = "copper";
  double cross_section = 0;          // [m^2]; 0: no leads
  double length = 0;                 // [m] one way
  double spacing = 0;                // [m] between axes; 0: touching
  std::optional<double> resistance;  // [ohm] both ways; replaces the computed value
  std::optional<double> inductance;  // [H] loop; replaces the computed value
};

struct Joint {
  std::string name;
  double resistance = 0;  // [ohm]
};

struct OnTime {
  double on = 0;   // [s] conducting
  double off = 0;  // [s] pause after it
};

struct Switch {
  double on_resistance = 0;   // [ohm]
  std::vector<OnTime> train;  // empty: conducts from t = 0 until the end
};

struct Circuit {
  Source source;
  Leads leads;
  std::vector<Joint> joints;
  Switch power_switch;
  double extra_resistance = 0;  // [ohm] anything else in the loop
  double extra_inductance = 0;  // [H]
};

}  // namespace tabmelt::circuit
