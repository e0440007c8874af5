// What the pulse source delivers: one series loop
//
//   source -- leads -- joints -- switch -- load (the weld spots) -- back to source
//
//   L di/dt + R_loop i + U_load = v,     C dv/dt = -i  (bank)   or   v = V_oc  (battery)
//                                        or   v = V, i <= I_lim  (bench supply)
//
//   v  source voltage behind its internal resistance [V]     i  current [A]
//   R_loop  internal resistance + leads + pieces + joints + switch [ohm]
//   L  leads + pieces + extra inductance [H]
//
// Plain values only; circuit/loop.h advances them.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "solver/circuit/charging.h"

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
  double esr_factor = 1;                // [1] ESR at the temperature of the bank over part_esr
  double esr_spread = 0;                // [1] spread of the parts' ESR
  bool supercapacitor = false;
  // [1] largest departure of one part's voltage from its even share that balancing leaves; absent:
  // nothing balances, the spread of the capacitance decides.
  std::optional<double> balancing = {};
  std::optional<double> rated_ripple = {};        // [A] r.m.s., one part
  std::optional<double> thermal_resistance = {};  // [K/W] one part to the air

  double capacitance() const { return part_capacitance * parallel / series; }
  double resistance() const { return part_esr * esr_factor * series / parallel; }
  double stored_energy() const { return 0.5 * capacitance() * charge_voltage * charge_voltage; }
};

struct Battery {
  double open_circuit_voltage = 0;      // [V]
  double internal_resistance = 0;       // [ohm]
  std::optional<double> rated_current;  // [A] peak
  // Its protection opens for good once the current has stayed at this value or above for the
  // delay; what the inductance then holds is spent in the protection.
  std::optional<double> cut_off_current = {};  // [A]
  double cut_off_delay = 0;                    // [s]
};

// Constant voltage behind a resistance until the current reaches its limit, then constant current.
// A capacitor across its output first adds what it holds.
struct BenchSupply {
  double voltage = 0;              // [V]
  double current_limit = 0;        // [A] of the regulator
  double internal_resistance = 0;  // [ohm] between output capacitor and leads
  double output_capacitance = 0;   // [F]; 0: none
  double output_esr = 0;           // [ohm] of the output capacitor
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

using Source = std::variant<CapacitorBank, Battery, ExponentialCurrent, TableCurrent, BenchSupply>;

inline bool current_is_prescribed(const Source& source) {
  return std::holds_alternative<ExponentialCurrent>(source) ||
         std::holds_alternative<TableCurrent>(source);
}

// Two parallel round conductors, out and back.
struct Leads {
  std::string material = "copper";
  double cross_section = 0;          // [m^2]; 0: no leads
  double length = 0;                 // [m] one way
  double spacing = 0;                // [m] between axes; 0: touching
  std::optional<double> resistance;  // [ohm] both ways; replaces the computed value
  std::optional<double> inductance;  // [H] loop; replaces the computed value
  bool flexible = true;              // IEC 60228 class 5; otherwise class 1 or 2
};

// A bar, rod or wire in the loop besides the leads: R = count * resistivity * length / area.
struct Piece {
  std::string name;
  double length = 0;                   // [m] of one
  double cross_section = 0;            // [m^2]
  double resistivity = 0;              // [ohm m] cold
  int count = 1;                       // alike, in series
  double inductance = 0;               // [H] all of them
  double heat_capacity = 0;            // [J/m^3/K] cold; 0: not known, no warming is worked out
  double temperature_coefficient = 0;  // [1/K] of the resistivity
  double resistance() const { return count * resistivity * length / cross_section; }
};

struct Joint {
  std::string name;
  double resistance = 0;  // [ohm]
};

struct OnTime {
  double on = 0;   // [s] conducting
  double off = 0;  // [s] pause after it
};

enum class SwitchKind { transistors, contactor, thyristor };
// What takes over the current when transistors open.
enum class Protection { none, clamp, freewheel };

struct Switch {
  double on_resistance = 0;   // [ohm] the whole switch, at its temperature
  std::vector<OnTime> train;  // empty: conducts from t = 0 until the end
  SwitchKind kind = SwitchKind::transistors;
  double forward_drop = 0;   // [V] thyristor: constant; it conducts until the current is zero
  int parallel = 1;          // parts
  double turn_off_time = 0;  // [s] fall time of the current; 0: not known
  std::optional<double> rated_voltage = {};     // [V] at which one part breaks down
  std::optional<double> avalanche_energy = {};  // [J] one part bears at a single turn-off
  Protection protection = Protection::none;
  double clamp_voltage = 0;  // [V] over the switch
  double diode_drop = 0;     // [V] of a free-wheel diode
};

struct Circuit {
  Source source;
  Leads leads;
  std::vector<Joint> joints;
  Switch power_switch;
  double extra_resistance = 0;  // [ohm] anything else in the loop
  double extra_inductance = 0;  // [H]
  std::vector<Piece> pieces = {};
  std::optional<Charger> charger = {};
  double handling_time = 0;              // [s] between two welds, besides charging
  std::optional<double> weld_rate = {};  // [1/s] at which parts and leads warm up
};

}  // namespace tabmelt::circuit
