#include "solver/circuit/loop.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <utility>

#include "solver/circuit/linear_motion.h"
#include "solver/circuit/overload.h"
#include "solver/circuit/require.h"
#include "solver/circuit/stepper.h"

namespace tabmelt::circuit {
namespace {

// Two event times closer than this part of themselves are one.
constexpr double time_round_off = 1e-12;

}  // namespace

Loop::Loop(Circuit circuit) : circuit_(std::move(circuit)), elements_(circuit::elements(circuit_)) {
  const std::vector<OnTime>& train = circuit_.power_switch.train;
  if (train.empty()) conducting_.push_back({0, infinity});
  double time = 0;
  for (const OnTime& pulse : train) {
    require_not_negative(pulse.on, "on-time of the switch");
    require_not_negative(pulse.off, "off-time of the switch");
    if (pulse.on > 0) {
      if (!conducting_.empty() && conducting_.back().off == time) {
        conducting_.back().off = time + pulse.on;
      } else {
        conducting_.push_back({time, time + pulse.on});
      }
    }
    time += pulse.on + pulse.off;
  }
}

LoopState Loop::initial_state() const {
  LoopState state;
  state.source_voltage =
      std::visit(Overload{[](const CapacitorBank& bank) { return bank.charge_voltage; },
                          [](const Battery& battery) { return battery.open_circuit_voltage; },
                          [](const BenchSupply& supply) { return supply.voltage; },
                          [](const auto&) { return 0.0; }},
                 circuit_.source);
  state.store_voltage = state.source_voltage;
  return state;
}

StepOutcome Loop::advance(const LoopState& start, double dt, double load_resistance) const {
  // No text is made unless it is needed: this is called in every round of every step.
  if (!(dt > 0) || !std::isfinite(dt)) throw std::invalid_argument("time step must be positive");
  if (!(load_resistance >= 0) || !std::isfinite(load_resistance))
    throw std::invalid_argument("load resistance must not be negative");
  const double first_closing = conducting_.empty() ? 0 : conducting_.front().on;
  return step(circuit_, elements_, first_closing, start, dt, load_resistance);
}

LoopState Loop::close_switch(LoopState state) const {
  state.closed = true;
  state.extinguished = false;
  return state;
}

LoopState Loop::open_switch(LoopState state, double& dumped) const {
  dumped = state.closed ? 0.5 * elements_.inductance * state.current * state.current : 0;
  state.closed = false;
  state.current = 0;
  state.over_time = 0;
  if (current_is_prescribed()) state.source_voltage = 0;
  if (const auto* supply = std::get_if<BenchSupply>(&circuit_.source))
    state.source_voltage = voltage_at_rest(*supply, state.store_voltage);
  return state;
}

std::vector<double> Loop::event_times() const {
  std::vector<double> times{0};
  for (const Interval& interval : conducting_) {
    if (interval.on > 0) times.push_back(interval.on);
    if (std::isfinite(interval.off)) times.push_back(interval.off);
  }
  if (const auto* table = std::get_if<TableCurrent>(&circuit_.source)) {
    const std::vector<double> edges = times;
    for (const double kink : table->time) {
      const auto same = [kink](double edge) {
        return std::abs(edge - kink) <= time_round_off * std::max(edge, kink);
      };
      if (kink > 0 && std::none_of(edges.begin(), edges.end(), same)) times.push_back(kink);
    }
    std::sort(times.begin(), times.end());
  }
  return times;
}

bool Loop::conducts_at(double time) const {
  const double at = time * (1 + time_round_off);
  return std::any_of(conducting_.begin(), conducting_.end(), [at](const Interval& interval) {
    return interval.on <= at && at < interval.off;
  });
}

double Loop::end_of_train() const { return conducting_.empty() ? 0 : conducting_.back().off; }

double Loop::end_of_pulse() const {
  const auto* table = std::get_if<TableCurrent>(&circuit_.source);
  return table ? std::clamp(table->time.back(), 0.0, end_of_train()) : end_of_train();
}

double Loop::stored_energy(const LoopState& state) const {
  const auto* bank = std::get_if<CapacitorBank>(&circuit_.source);
  return bank ? 0.5 * bank->capacitance() * state.store_voltage * state.store_voltage : 0;
}

double Loop::peak_current_bound() const {
  const double resistance = elements_.total_resistance();
  const double inductance = elements_.inductance;
  const auto over = [](double voltage, double impedance) {
    return impedance > 0 ? voltage / impedance : infinity;
  };
  return std::visit(
      Overload{
          [&](const CapacitorBank& bank) {
            return std::min(over(bank.charge_voltage, resistance),
                            over(bank.charge_voltage, std::sqrt(inductance / bank.capacitance())));
          },
          [&](const Battery& battery) { return over(battery.open_circuit_voltage, resistance); },
          [&](const BenchSupply& supply) {
            // Beyond the limit the capacitor swings with the inductance, at most V sqrt(C/L).
            const double surge =
                supply.output_capacitance > 0
                    ? over(supply.voltage, std::sqrt(inductance / supply.output_capacitance))
                    : 0;
            return std::min(over(supply.voltage, resistance), supply.current_limit + surge);
          },
          [](const ExponentialCurrent& source) { return std::abs(source.peak); },
          [](const TableCurrent& table) {
            double largest = 0;
            for (const double i : table.current) largest = std::max(largest, std::abs(i));
            return largest;
          }},
      circuit_.source);
}

}  // namespace tabmelt::circuit
