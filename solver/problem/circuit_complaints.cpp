#include "solver/problem/circuit_complaints.h"

#include "solver/circuit/overload.h"
#include "solver/material/constants.h"

namespace tabmelt {
namespace {

void check_source(const circuit::CapacitorBank& bank, ComplaintList& list) {
  list.positive(bank.part_capacitance, "source.part_capacitance");
  list.not_negative(bank.part_esr, "source.part_esr");
  list.unless(bank.series >= 1, "source.series", "must be at least 1");
  list.unless(bank.parallel >= 1, "source.parallel", "must be at least 1");
  list.positive(bank.charge_voltage, "source.charge_voltage");
  // Charging above the rating is possible and is reported with the result; it is no complaint.
  if (bank.rated_voltage) list.positive(*bank.rated_voltage, "source.rated_voltage");
  if (bank.rated_current) list.positive(*bank.rated_current, "source.rated_current");
  list.unless(bank.tolerance >= 0 && bank.tolerance < 1, "source.tolerance",
              "must be at least 0 and below 1");
  list.positive(bank.esr_factor, "source.esr_by_temperature");
  list.unless(bank.esr_spread >= 0 && bank.esr_spread < 1, "source.esr_spread",
              "must be at least 0 and below 1");
  if (bank.balancing) list.not_negative(*bank.balancing, "source.balancing");
  if (bank.rated_ripple) list.positive(*bank.rated_ripple, "source.rated_ripple");
  if (bank.thermal_resistance) list.positive(*bank.thermal_resistance, "source.thermal_resistance");
}

void check_source(const circuit::Battery& battery, ComplaintList& list) {
  list.positive(battery.open_circuit_voltage, "source.open_circuit_voltage");
  list.not_negative(battery.internal_resistance, "source.internal_resistance");
  if (battery.rated_current) list.positive(*battery.rated_current, "source.rated_current");
  if (battery.cut_off_current) list.positive(*battery.cut_off_current, "source.cut_off_current");
  list.not_negative(battery.cut_off_delay, "source.cut_off_delay");
}

void check_source(const circuit::BenchSupply& supply, ComplaintList& list) {
  list.positive(supply.voltage, "source.voltage");
  list.positive(supply.current_limit, "source.current_limit");
  list.not_negative(supply.internal_resistance, "source.internal_resistance");
  list.not_negative(supply.output_capacitance, "source.output_capacitance");
  list.not_negative(supply.output_esr, "source.output_esr");
}

void check_source(const circuit::ExponentialCurrent& current, ComplaintList& list) {
  list.unless(std::isfinite(current.peak) && current.peak != 0, "source.peak", "must not be zero");
  list.positive(current.time_constant, "source.time_constant");
}

void check_source(const circuit::TableCurrent& table, ComplaintList& list) {
  const std::string key = "source.table";
  if (table.time.size() != table.current.size())
    return list.add(key, "needs as many times as currents");
  if (table.time.size() < 2) return list.add(key, "needs at least two points");
  bool carries = false;
  for (std::size_t n = 0; n < table.time.size(); ++n) {
    if (!std::isfinite(table.time[n]) || !std::isfinite(table.current[n]))
      return list.add(key, "holds a value that is not finite");
    if (n > 0 && table.time[n] <= table.time[n - 1])
      return list.add(key, "needs times that increase; point " + std::to_string(n + 1) +
                               " is not after the one before it");
    carries = carries || table.current[n] != 0;
  }
  list.unless(carries, key, "is zero throughout");
  list.unless(table.time.back() > 0, key, "ends before the run starts at 0 s");
}

void check_switch(const circuit::Switch& part, ComplaintList& list) {
  list.not_negative(part.on_resistance, "switch.on_resistance");
  list.unless(part.parallel >= 1, "switch.parallel", "must be at least 1");
  list.not_negative(part.forward_drop, "switch.forward_drop");
  list.not_negative(part.turn_off_time, "switch.turn_off_time");
  if (part.rated_voltage) list.positive(*part.rated_voltage, "switch.rated_voltage");
  if (part.avalanche_energy) list.positive(*part.avalanche_energy, "switch.avalanche_energy");
  if (part.protection == circuit::Protection::clamp)
    list.positive(part.clamp_voltage, "switch.clamp_voltage");
  if (part.protection == circuit::Protection::freewheel)
    list.positive(part.diode_drop, "switch.diode_drop");
  for (const circuit::OnTime& pulse : part.train) {
    list.positive(pulse.on, "switch.pulses");
    list.not_negative(pulse.off, "switch.pulses");
  }
  list.unless(part.kind != circuit::SwitchKind::thyristor || part.train.empty(),
              "switch.kind, switch.pulses",
              "a thyristor cannot be switched off; it conducts until the current is zero");
}

// What blocks or clamps below the source's voltage conducts all the time.
void check_blocking(const circuit::Circuit& circuit, ComplaintList& list) {
  const circuit::Switch& part = circuit.power_switch;
  const double source = std::visit(
      circuit::Overload{[](const circuit::CapacitorBank& bank) { return bank.charge_voltage; },
                        [](const circuit::Battery& b) { return b.open_circuit_voltage; },
                        [](const circuit::BenchSupply& supply) { return supply.voltage; },
                        [](const auto&) { return 0.0; }},
      circuit.source);
  if (part.kind != circuit::SwitchKind::transistors) return;
  list.unless(!part.rated_voltage || *part.rated_voltage > source,
              "switch.rated_voltage, source.kind",
              "the source's voltage alone breaks the transistors down");
  // No voltage at all is complained about with the switch.
  const bool clamped = part.protection == circuit::Protection::clamp && part.clamp_voltage > 0;
  list.unless(!clamped || part.clamp_voltage > source, "switch.clamp_voltage, source.kind",
              "the clamp holds less than the source's voltage and would conduct all the time");
}

void check_piece(const circuit::Piece& piece, ComplaintList& list) {
  const std::string key = piece.name;
  list.not_negative(piece.length, key);
  list.positive(piece.cross_section, key);
  list.positive(piece.resistivity, key);
  list.not_negative(piece.inductance, key);
  list.not_negative(piece.heat_capacity, key);
  list.unless(piece.count >= 0, key, "the number must not be negative");
}

void check_charger(const circuit::Circuit& circuit, ComplaintList& list) {
  list.not_negative(circuit.handling_time, "charger.handling_time");
  if (circuit.weld_rate) list.positive(*circuit.weld_rate, "work.welds_per_minute");
  if (!circuit.charger) return;
  list.positive(circuit.charger->set_voltage, "charger.voltage");
  list.unless(circuit.charger->current_limit > 0, "charger.current", "must be above zero");
  list.not_negative(circuit.charger->series_resistance, "charger.resistance");
  const auto* bank = std::get_if<circuit::CapacitorBank>(&circuit.source);
  if (!bank) return list.add("charger.voltage, source.kind", "only a bank is charged");
  // A bank that is charged to 99 % of the supply's voltage counts as full.
  list.unless(circuit.charger->set_voltage >= 0.99 * bank->charge_voltage,
              "charger.voltage, source.charge_voltage",
              "the supply never charges the bank to its charge voltage");
}

}  // namespace

void check_circuit(const circuit::Circuit& circuit, ComplaintList& list) {
  std::visit([&](const auto& source) { check_source(source, list); }, circuit.source);

  const circuit::Leads& leads = circuit.leads;
  list.not_negative(leads.cross_section, "leads.cross_section");
  list.not_negative(leads.length, "leads.length");
  list.not_negative(leads.spacing, "leads.spacing");
  if (leads.resistance) list.not_negative(*leads.resistance, "leads.resistance");
  if (leads.inductance) list.not_negative(*leads.inductance, "leads.inductance");
  const double wire = 2 * std::sqrt(std::max(leads.cross_section, 0.0) / constants::pi);
  if (leads.cross_section > 0 && leads.spacing > 0 && leads.spacing < wire)
    list.add("leads.spacing, leads.cross_section",
             "the axes of the cables are " + in_millimetres(leads.spacing) +
                 " apart, less than the wire is thick (" + in_millimetres(wire) +
                 "); 0 mm means touching");

  for (const circuit::Joint& joint : circuit.joints)
    list.not_negative(joint.resistance, "joints.resistance");
  for (const circuit::Piece& piece : circuit.pieces) check_piece(piece, list);
  check_switch(circuit.power_switch, list);
  check_blocking(circuit, list);
  check_charger(circuit, list);
  list.not_negative(circuit.extra_resistance, "extra resistance of the loop");
  list.not_negative(circuit.extra_inductance, "extra inductance of the loop");
}

}  // namespace tabmelt
