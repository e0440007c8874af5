#include "solver/circuit/charging.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tabmelt::circuit {
namespace {

void check(const Charger& charger, double capacitance, double start_voltage) {
  if (!(capacitance > 0) || !std::isfinite(capacitance)) {
    throw std::invalid_argument("capacitance must be positive");
  }
  if (!(charger.current_limit > 0)) {
    throw std::invalid_argument("current limit of the charger must be positive");
  }
  if (!(charger.set_voltage > 0) || !std::isfinite(charger.set_voltage)) {
    throw std::invalid_argument("set voltage of the charger must be positive");
  }
  if (!(charger.series_resistance >= 0) || !std::isfinite(charger.series_resistance)) {
    throw std::invalid_argument("charging resistance must not be negative");
  }
  if (charger.series_resistance == 0 && std::isinf(charger.current_limit)) {
    throw std::invalid_argument("a charger needs a current limit or a resistor");
  }
  if (!std::isfinite(start_voltage)) {
    throw std::invalid_argument("start voltage must be a number");
  }
}

// Voltage of the bank at which the supply changes over to constant voltage; -infinity without a
// current limit.
double change_over_voltage(const Charger& charger) {
  return charger.series_resistance == 0
             ? charger.set_voltage
             : charger.set_voltage - charger.current_limit * charger.series_resistance;
}

}  // namespace

Charge charge_to_voltage(const Charger& charger, double capacitance, double start_voltage,
                         double end_voltage) {
  check(charger, capacitance, start_voltage);
  const double set = charger.set_voltage;
  const double resistance = charger.series_resistance;
  if (!(end_voltage < set) && !(resistance == 0 && end_voltage == set)) {
    throw std::invalid_argument("the bank never reaches the set voltage of its charger");
  }
  Charge charge;
  charge.end_voltage = std::max(start_voltage, end_voltage);
  if (start_voltage >= end_voltage) return charge;

  const double limit = charger.current_limit;
  const double change_over = change_over_voltage(charger);
  const double constant_current_end = std::min(end_voltage, change_over);
  if (start_voltage < constant_current_end) {
    charge.constant_current_time = capacitance * (constant_current_end - start_voltage) / limit;
    charge.square_current_time = limit * limit * charge.constant_current_time;
    charge.lost = resistance * charge.square_current_time;
    charge.peak_supply_power = limit * (constant_current_end + limit * resistance);
  }
  charge.time = charge.constant_current_time;
  charge.end_current = limit;
  double first_current = limit;
  const double constant_voltage_start = std::max(start_voltage, change_over);
  if (constant_voltage_start < end_voltage) {
    first_current = (set - constant_voltage_start) / resistance;
    charge.end_current = (set - end_voltage) / resistance;
    const double risen = end_voltage - constant_voltage_start;
    charge.time += resistance * capacitance * std::log1p(risen / (set - end_voltage));
    // R C R (i_s^2 - i_e^2)/2 with the difference of squares as a product.
    const double square = 0.5 * capacitance * risen * (first_current + charge.end_current);
    charge.square_current_time += square;
    charge.lost += resistance * square;
    charge.peak_supply_power = std::max(charge.peak_supply_power, set * first_current);
  }
  charge.peak_power = first_current * first_current * resistance;
  charge.stored = 0.5 * capacitance * (end_voltage - start_voltage) * (end_voltage + start_voltage);
  return charge;
}

Charge full_charge(const Charger& charger, double capacitance, double start_voltage) {
  return charge_to_voltage(charger, capacitance, start_voltage, 0.99 * charger.set_voltage);
}

}  // namespace tabmelt::circuit
