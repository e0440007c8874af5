#include "solver/circuit/loop.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <utility>

#include "solver/circuit/discharge.h"
#include "solver/circuit/output_capacitor.h"
#include "solver/circuit/overload.h"
#include "solver/circuit/prescribed_current.h"
#include "solver/circuit/supply_step.h"

namespace tabmelt::circuit {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
// Two event times closer than this part of themselves are one.
constexpr double time_round_off = 1e-12;

void require(bool condition, const std::string& message) {
  if (!condition) throw std::invalid_argument(message);
}

void require_not_negative(double value, const std::string& what) {
  require(value >= 0 && std::isfinite(value), what + " must not be negative");
}

}  // namespace

void book(StepEnergy& energy, const LoopElements& loop, const StepLoad& load, double charge,
          double absolute_charge, double square_current) {
  energy.charge += charge;
  energy.square_current += square_current;
  energy.in_source += loop.source_resistance * square_current;
  energy.in_leads += loop.lead_resistance * square_current;
  energy.in_joints += loop.joint_resistance * square_current;
  energy.in_switch += loop.switch_resistance * square_current + loop.switch_drop * absolute_charge;
  energy.in_load_resistance += load.resistance * square_current;
  energy.in_back_voltage += load.back_voltage * absolute_charge;
}

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

bool Loop::current_is_prescribed() const {
  return std::holds_alternative<ExponentialCurrent>(circuit_.source) ||
         std::holds_alternative<TableCurrent>(circuit_.source);
}

LoopState Loop::initial_state() const {
  LoopState state;
  state.source_voltage =
      std::visit(Overload{[](const CapacitorBank& bank) { return bank.charge_voltage; },
                          [](const Battery& battery) { return battery.open_circuit_voltage; },
                          [](const BenchSupply& supply) { return supply.voltage; },
                          [](const auto&) { return 0.0; }},
                 circuit_.source);
  if (const auto* supply = std::get_if<BenchSupply>(&circuit_.source))
    state.capacitor_voltage = supply->voltage;
  return state;
}

StepOutcome Loop::advance(const LoopState& start, double dt, double load_resistance,
                          double back_voltage) const {
  require(dt > 0 && std::isfinite(dt), "time step must be positive");
  require_not_negative(load_resistance, "load resistance");
  require_not_negative(back_voltage, "back voltage of the load");
  StepOutcome outcome{start, {}, {}};
  const double resistance = elements_.total_resistance() + load_resistance;

  const StepLoad load{load_resistance, back_voltage};
  const bool one_way = circuit_.power_switch.kind == SwitchKind::thyristor;

  // Of a prescribed current, from its value at the end and its integrals over the step.
  const auto prescribed = [&](double first_current, double end_current,
                              const CurrentIntegrals& sum) {
    note_current(outcome.extremes, 0, first_current);
    note_current(outcome.extremes, dt, end_current);
    const double back = back_voltage + elements_.switch_drop;
    outcome.state.current = end_current;
    outcome.state.source_voltage =
        end_current * resistance + (end_current == 0 ? 0.0 : std::copysign(back, end_current));
    outcome.extremes.lowest_voltage = outcome.state.source_voltage;
    book(outcome.energy, elements_, load, sum.charge, sum.absolute_charge, sum.square_current);
    outcome.energy.from_source = resistance * sum.square_current + back * sum.absolute_charge;
  };

  if (!start.closed || start.cut_off || start.extinguished) {
    outcome.state.current = 0;
    if (current_is_prescribed()) outcome.state.source_voltage = 0;
    const auto* supply = std::get_if<BenchSupply>(&circuit_.source);
    if (supply) outcome.state.source_voltage = supply->voltage;
    outcome.extremes.lowest_voltage = outcome.state.source_voltage;
    if (supply && supply->output_capacitance > 0)
      outcome = output_capacitor_recharge(*supply, start, dt);
  } else {
    std::visit(
        Overload{
            [&](const CapacitorBank& bank) {
              const double capacitance = bank.capacitance();
              require(resistance > 0, "a capacitor bank needs some resistance in its loop");
              outcome = march(
                  start, dt, elements_, load, one_way,
                  [&](const LoopPoint& point) {
                    return CapacitorDischarge(resistance, elements_.inductance, capacitance, point);
                  },
                  [](double, const StepIntegrals& step, double back) {
                    return step.end.drive + back;
                  });
            },
            [&](const Battery& battery) {
              outcome = battery_step(battery, start, dt, elements_, load, one_way);
            },
            [&](const BenchSupply& supply) {
              outcome = supply_step(supply, start, dt, elements_, load, one_way);
            },
            [&](const ExponentialCurrent& source) {
              const double since = start.time - (conducting_.empty() ? 0 : conducting_.front().on);
              prescribed(current_at(source, since), current_at(source, since + dt),
                         integrals(source, since, dt));
            },
            [&](const TableCurrent& table) {
              prescribed(current_at(table, start.time), current_before(table, start.time + dt),
                         integrals(table, start.time, dt));
            }},
        circuit_.source);
  }
  outcome.state.time = start.time + dt;
  return outcome;
}

double Loop::current_after(const LoopState& start, double dt, double load_resistance,
                           double back_voltage) const {
  if (dt > 0) return advance(start, dt, load_resistance, back_voltage).state.current;
  require(dt == 0, "time must not be negative");
  if (!start.closed || start.cut_off || start.extinguished) return 0;
  if (const auto* source = std::get_if<ExponentialCurrent>(&circuit_.source)) {
    return current_at(*source, start.time - (conducting_.empty() ? 0 : conducting_.front().on));
  }
  if (const auto* table = std::get_if<TableCurrent>(&circuit_.source)) {
    return current_at(*table, start.time);
  }
  if (elements_.inductance > 0) return start.current;
  const double back = back_voltage + elements_.switch_drop;
  const double resistance = elements_.total_resistance() + load_resistance;
  if (const auto* supply = std::get_if<BenchSupply>(&circuit_.source))
    return current_without_inductance(*supply, start, resistance, back);
  const double v = start.source_voltage;
  if (!(std::abs(v) > back)) return 0;
  require(resistance > 0, "the source needs some resistance in its loop");
  return (v - std::copysign(back, v)) / resistance;
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
  if (const auto* supply = std::get_if<BenchSupply>(&circuit_.source)) {
    state.source_voltage = voltage_at_rest(*supply, state);
    state.limited = state.source_voltage < supply->voltage;
  }
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
  return bank ? 0.5 * bank->capacitance() * state.source_voltage * state.source_voltage : 0;
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
