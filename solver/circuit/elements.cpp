#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "solver/circuit/loop.h"
#include "solver/circuit/overload.h"
#include "solver/circuit/require.h"

namespace tabmelt::circuit {
namespace {

void check(const CapacitorBank& bank) {
  require(bank.part_capacitance > 0 && std::isfinite(bank.part_capacitance),
          "capacitance must be positive");
  require(bank.series >= 1 && bank.parallel >= 1,
          "capacitors in series and in parallel must be at least one");
  require_not_negative(bank.part_esr, "series resistance of a capacitor");
  require_not_negative(bank.esr_factor, "factor of the series resistance");
  require_not_negative(bank.charge_voltage, "charge voltage");
}

void check(const Battery& battery) {
  require_not_negative(battery.open_circuit_voltage, "open-circuit voltage");
  require_not_negative(battery.internal_resistance, "internal resistance");
  require_not_negative(battery.cut_off_delay, "delay of the cut-off");
  if (battery.cut_off_current)
    require(*battery.cut_off_current > 0, "cut-off current must be positive");
}

void check(const BenchSupply& supply) {
  require_not_negative(supply.voltage, "voltage of the supply");
  require_not_negative(supply.internal_resistance, "internal resistance of the supply");
  require(supply.current_limit > 0, "current limit of the supply must be positive");
  require_not_negative(supply.output_capacitance, "output capacitance of the supply");
  require_not_negative(supply.output_esr, "series resistance of the supply's output capacitor");
}

void check(const ExponentialCurrent& source) {
  require(std::isfinite(source.peak), "peak current must be a number");
  require(source.time_constant > 0, "time constant of the current must be positive");
}

void check(const TableCurrent& table) {
  require(table.time.size() == table.current.size() && table.time.size() >= 2,
          "current table needs at least two points, each with a time and a current");
  require(std::adjacent_find(table.time.begin(), table.time.end(),
                             [](double a, double b) { return !(a < b); }) == table.time.end(),
          "times of the current table must increase");
  require(std::all_of(table.current.begin(), table.current.end(),
                      [](double i) { return std::isfinite(i); }),
          "currents of the table must be numbers");
}

double lead_resistance(const Leads& leads) {
  if (leads.resistance) return *leads.resistance;
  if (leads.cross_section == 0 || leads.length == 0) return 0;
  return 2 * leads.length *
         lead_resistance_per_metre(
             leads.material, leads.cross_section,
             leads.flexible ? ConductorClass::flexible : ConductorClass::solid_or_stranded);
}

double lead_inductance(const Leads& leads) {
  if (leads.inductance) return *leads.inductance;
  if (leads.cross_section == 0 || leads.length == 0) return 0;
  return two_wire_inductance(leads.length, leads.cross_section, leads.spacing);
}

}  // namespace

LoopElements elements(const Circuit& circuit) {
  std::visit([](const auto& source) { check(source); }, circuit.source);
  LoopElements loop;
  loop.source_resistance =
      std::visit(Overload{[](const CapacitorBank& bank) { return bank.resistance(); },
                          [](const Battery& battery) { return battery.internal_resistance; },
                          [](const BenchSupply& supply) { return supply.internal_resistance; },
                          [](const auto&) { return 0.0; }},
                 circuit.source);
  require_not_negative(circuit.leads.cross_section, "cross-section of the leads");
  require_not_negative(circuit.leads.length, "length of the leads");
  require_not_negative(circuit.leads.spacing, "spacing of the leads");
  loop.lead_resistance = lead_resistance(circuit.leads);
  require_not_negative(loop.lead_resistance, "resistance of the leads");
  double piece_inductance = 0;
  for (const Piece& piece : circuit.pieces) {
    require_not_negative(piece.length, "length of " + piece.name);
    require_not_negative(piece.resistivity, "resistivity of " + piece.name);
    require_not_negative(piece.inductance, "inductance of " + piece.name);
    require(piece.cross_section > 0, "cross-section of " + piece.name + " must be positive");
    require(piece.count >= 0, "number of " + piece.name + " must not be negative");
    loop.lead_resistance += piece.resistance();
    piece_inductance += piece.inductance;
  }
  require_not_negative(circuit.extra_resistance, "extra resistance");
  loop.joint_resistance = circuit.extra_resistance;
  for (const Joint& joint : circuit.joints) {
    require_not_negative(joint.resistance, "resistance of joint " + joint.name);
    loop.joint_resistance += joint.resistance;
  }
  require_not_negative(circuit.power_switch.on_resistance, "on-resistance of the switch");
  loop.switch_resistance = circuit.power_switch.on_resistance;
  require_not_negative(circuit.power_switch.forward_drop, "forward drop of the switch");
  if (circuit.power_switch.kind == SwitchKind::thyristor)
    loop.switch_drop = circuit.power_switch.forward_drop;
  if (!current_is_prescribed(circuit.source)) {
    require_not_negative(circuit.extra_inductance, "extra inductance");
    loop.inductance = lead_inductance(circuit.leads) + piece_inductance + circuit.extra_inductance;
    require_not_negative(loop.inductance, "inductance of the leads");
    if (loop.inductance < 1e-100) loop.inductance = 0;  // its rates squared would overflow
  }
  return loop;
}

}  // namespace tabmelt::circuit
