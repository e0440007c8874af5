#include "solver/circuit/source_report.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/circuit/capacitor.h"
#include "solver/circuit/loop.h"

namespace tabmelt::circuit {
namespace {

void describe(SourceReport& report, const CapacitorBank& bank, const SourceRecord& record) {
  const double voltage = bank.charge_voltage;
  const double capacitance = bank.capacitance();
  report.is_bank = true;
  report.stored_energy = bank.stored_energy();
  report.energy_left = 0.5 * capacitance * record.final_voltage * record.final_voltage;
  report.droop = voltage > 0 ? (voltage - record.final_voltage) / voltage : 0;

  report.peak_part_current = record.peak_current / bank.parallel;
  if (bank.rated_current) {
    report.current_exceeded = report.peak_part_current > *bank.rated_current;
  }

  report.worst_part_current =
      largest_string_current(record.peak_current, bank.parallel, bank.esr_spread);
  report.worst_current_exceeded =
      bank.rated_current && report.worst_part_current > *bank.rated_current;

  report.part_voltage = voltage / bank.series;
  report.worst_part_voltage = worst_part_voltage(bank, voltage);
  if (bank.rated_voltage) {
    report.voltage_exceeded = report.part_voltage > *bank.rated_voltage;
    report.worst_voltage_exceeded = report.worst_part_voltage > *bank.rated_voltage;
  }
  report.reverse_voltage = std::max(0.0, -record.lowest_voltage);
  report.reverse_part_voltage = worst_part_voltage(bank, report.reverse_voltage);

  report.least_energy = report.stored_energy * (1 - bank.tolerance);
  report.most_energy = report.stored_energy * (1 + bank.tolerance);
}

void describe(SourceReport& report, const Battery& battery, const SourceRecord& record) {
  report.peak_part_current = record.peak_current;
  if (battery.open_circuit_voltage > 0) {
    report.droop = record.peak_current * battery.internal_resistance / battery.open_circuit_voltage;
  }
  if (battery.rated_current) {
    report.current_exceeded = record.peak_current > *battery.rated_current;
  }
}

// Its voltage falls from the set one to what the limited current takes.
void describe(SourceReport& report, const BenchSupply& supply, const SourceRecord& record) {
  report.peak_part_current = record.peak_current;
  if (supply.voltage > 0) {
    const double inside = record.peak_current * supply.internal_resistance;
    const double outside = std::max(supply.voltage - record.lowest_voltage, 0.0);
    // With an output capacitor the largest current is over before the voltage is lowest.
    report.droop = (supply.output_capacitance > 0 ? std::max(outside, inside) : outside + inside) /
                   supply.voltage;
  }
  if (supply.output_capacitance > 0) {
    report.stored_energy = 0.5 * supply.output_capacitance * supply.voltage * supply.voltage;
    report.surge = std::max(record.peak_current - supply.current_limit, 0.0);
  }
}

void describe(SourceReport&, const ExponentialCurrent&, const SourceRecord&) {}
void describe(SourceReport&, const TableCurrent&, const SourceRecord&) {}

}  // namespace

double worst_part_voltage(const CapacitorBank& bank, double voltage) {
  if (bank.balancing && bank.series > 1) return (1 + *bank.balancing) * voltage / bank.series;
  return worst_part_voltage(voltage, bank.series, bank.tolerance);
}

double worst_part_voltage(double voltage, int series, double tolerance) {
  if (series < 1) throw std::invalid_argument("capacitors in series must be at least one");
  if (!(tolerance >= 0) || !(tolerance < 1)) {
    throw std::invalid_argument("tolerance of the capacitance must lie between 0 and 1");
  }
  return voltage / (1 + (series - 1) * (1 - tolerance) / (1 + tolerance));
}

SourceReport source_report(const Circuit& circuit, const SourceRecord& record) {
  SourceReport report;
  report.peak_current = record.peak_current;
  std::visit([&](const auto& source) { describe(report, source, record); }, circuit.source);
  return report;
}

Freewheel freewheel(double inductance, double current, double resistance, double diode_drop) {
  if (!(current >= 0) || !(inductance >= 0) || !(resistance >= 0) || !(diode_drop > 0)) {
    throw std::invalid_argument(
        "a freewheel path needs a diode drop and no negative current, inductance or resistance");
  }
  const double x = current * resistance / diode_drop;
  Freewheel outcome;
  // ln(1 + x)/x and 2 (x - ln(1 + x))/x^2 tend to 1 as the resistance vanishes; the second loses
  // digits there, so its series is used: sum of 2 (-x)^k/(k + 2).
  const double log_ratio = x > 0 ? std::log1p(x) / x : 1;
  double charge_ratio = 0;
  if (x > 0.02) {
    charge_ratio = 2 * (x - std::log1p(x)) / (x * x);
  } else {
    double power = 1;
    for (int k = 0; k < 9; ++k, power *= -x) charge_ratio += 2 * power / (k + 2);
  }
  outcome.time = inductance * current / diode_drop * log_ratio;
  // V_d int i dt = L I^2/2 less what the resistance takes.
  outcome.diode_energy = 0.5 * inductance * current * current * charge_ratio;
  return outcome;
}

}  // namespace tabmelt::circuit
