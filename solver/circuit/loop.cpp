#include "solver/circuit/loop.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <utility>

#include "solver/circuit/discharge.h"
#include "solver/circuit/prescribed_current.h"

namespace tabmelt::circuit {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
// Two event times closer than this part of themselves are one.
constexpr double time_round_off = 1e-12;

template <typename... Visitors>
struct Overload : Visitors... {
  using Visitors::operator()...;
};

void require(bool condition, const std::string& message) {
  if (!condition) throw std::invalid_argument(message);
}

void require_not_negative(double value, const std::string& what) {
  require(value >= 0 && std::isfinite(value), what + " must not be negative");
}

void check(const CapacitorBank& bank) {
  require(bank.part_capacitance > 0 && std::isfinite(bank.part_capacitance),
          "capacitance must be positive");
  require(bank.series >= 1 && bank.parallel >= 1,
          "capacitors in series and in parallel must be at least one");
  require_not_negative(bank.part_esr, "series resistance of a capacitor");
  require_not_negative(bank.charge_voltage, "charge voltage");
}

void check(const Battery& battery) {
  require_not_negative(battery.open_circuit_voltage, "open-circuit voltage");
  require_not_negative(battery.internal_resistance, "internal resistance");
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
  return 2 * leads.length * lead_resistance_per_metre(leads.material, leads.cross_section);
}

double lead_inductance(const Leads& leads) {
  if (leads.inductance) return *leads.inductance;
  if (leads.cross_section == 0 || leads.length == 0) return 0;
  return two_wire_inductance(leads.length, leads.cross_section, leads.spacing);
}

// Energies of the parts that all follow from the integrals over a stretch of the step.
void book(StepEnergy& energy, const LoopElements& loop, double load_resistance, double back_voltage,
          double charge, double absolute_charge, double square_current) {
  energy.charge += charge;
  energy.square_current += square_current;
  energy.in_source += loop.source_resistance * square_current;
  energy.in_leads += loop.lead_resistance * square_current;
  energy.in_joints += loop.joint_resistance * square_current;
  energy.in_switch += loop.switch_resistance * square_current;
  energy.in_load_resistance += load_resistance * square_current;
  energy.in_back_voltage += back_voltage * absolute_charge;
}

// Marches a bank or a battery through the step, one stretch between two zeros of the current at a
// time. `motion_from(start)` gives the exact motion, `voltage_after(v, step, back)` the source
// voltage at its end.
template <typename MotionFrom, typename VoltageAfter>
StepOutcome march(const LoopState& start, double dt, const LoopElements& loop,
                  double load_resistance, double back_voltage, const MotionFrom& motion_from,
                  const VoltageAfter& voltage_after) {
  StepOutcome outcome{start, {}};
  double& v = outcome.state.source_voltage;
  double& i = outcome.state.current;
  const double inductance = loop.inductance;
  if (inductance == 0) i = 0;  // follows the voltage, remembers nothing
  for (double left = dt; left > 0;) {
    const double back = std::copysign(back_voltage, i != 0 ? i : v);
    const double drive = v - back;
    // Nothing flows and the back voltage cannot be overcome.
    if (i == 0 && !(std::abs(v) > back_voltage)) break;
    const auto motion = motion_from(LoopPoint{i, drive});
    const double reversal = back_voltage > 0 ? motion.first_reversal() : infinity;
    const bool stops = reversal <= left;
    const double stretch = stops ? reversal : left;
    const StepIntegrals step = motion.integrals(stretch);
    const double change = stops ? -i : step.current_change;
    const double end_current = stops ? 0.0 : step.end.current;
    const double end_voltage = voltage_after(v, step, back);
    outcome.energy.from_source += step.charge * 0.5 * (v + end_voltage);
    if (inductance > 0) {
      outcome.energy.to_inductance += inductance * change * 0.5 * (i + end_current);
    }
    book(outcome.energy, loop, load_resistance, back_voltage, step.charge, std::abs(step.charge),
         step.square_current);
    v = end_voltage;
    i = end_current;
    left = stops ? left - stretch : 0;
  }
  return outcome;
}

}  // namespace

LoopElements elements(const Circuit& circuit) {
  std::visit([](const auto& source) { check(source); }, circuit.source);
  LoopElements loop;
  loop.source_resistance =
      std::visit(Overload{[](const CapacitorBank& bank) { return bank.resistance(); },
                          [](const Battery& battery) { return battery.internal_resistance; },
                          [](const auto&) { return 0.0; }},
                 circuit.source);
  require_not_negative(circuit.leads.cross_section, "cross-section of the leads");
  require_not_negative(circuit.leads.length, "length of the leads");
  require_not_negative(circuit.leads.spacing, "spacing of the leads");
  loop.lead_resistance = lead_resistance(circuit.leads);
  require_not_negative(loop.lead_resistance, "resistance of the leads");
  require_not_negative(circuit.extra_resistance, "extra resistance");
  loop.joint_resistance = circuit.extra_resistance;
  for (const Joint& joint : circuit.joints) {
    require_not_negative(joint.resistance, "resistance of joint " + joint.name);
    loop.joint_resistance += joint.resistance;
  }
  require_not_negative(circuit.power_switch.on_resistance, "on-resistance of the switch");
  loop.switch_resistance = circuit.power_switch.on_resistance;
  const bool prescribed = std::holds_alternative<ExponentialCurrent>(circuit.source) ||
                          std::holds_alternative<TableCurrent>(circuit.source);
  if (!prescribed) {
    require_not_negative(circuit.extra_inductance, "extra inductance");
    loop.inductance = lead_inductance(circuit.leads) + circuit.extra_inductance;
    require_not_negative(loop.inductance, "inductance of the leads");
  }
  return loop;
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
                          [](const auto&) { return 0.0; }},
                 circuit_.source);
  return state;
}

StepOutcome Loop::advance(const LoopState& start, double dt, double load_resistance,
                          double back_voltage) const {
  require(dt > 0 && std::isfinite(dt), "time step must be positive");
  require_not_negative(load_resistance, "load resistance");
  require_not_negative(back_voltage, "back voltage of the load");
  StepOutcome outcome{start, {}};
  const double resistance = elements_.total_resistance() + load_resistance;

  // Of a prescribed current, from its value at the end and its integrals over the step.
  const auto prescribed = [&](double end_current, const CurrentIntegrals& sum) {
    outcome.state.current = end_current;
    outcome.state.source_voltage =
        end_current * resistance +
        (end_current == 0 ? 0.0 : std::copysign(back_voltage, end_current));
    book(outcome.energy, elements_, load_resistance, back_voltage, sum.charge, sum.absolute_charge,
         sum.square_current);
    outcome.energy.from_source =
        resistance * sum.square_current + back_voltage * sum.absolute_charge;
  };

  if (!start.closed) {
    outcome.state.current = 0;
    if (current_is_prescribed()) outcome.state.source_voltage = 0;
  } else {
    std::visit(
        Overload{
            [&](const CapacitorBank& bank) {
              const double capacitance = bank.capacitance();
              require(resistance > 0, "a capacitor bank needs some resistance in its loop");
              outcome = march(
                  start, dt, elements_, load_resistance, back_voltage,
                  [&](const LoopPoint& point) {
                    return CapacitorDischarge(resistance, elements_.inductance, capacitance, point);
                  },
                  [](double, const StepIntegrals& step, double back) {
                    return step.end.drive + back;
                  });
            },
            [&](const Battery&) {
              require(resistance > 0 || elements_.inductance > 0,
                      "a battery needs some resistance or inductance in its loop");
              outcome = march(
                  start, dt, elements_, load_resistance, back_voltage,
                  [&](const LoopPoint& point) {
                    return BatteryDischarge(resistance, elements_.inductance, point);
                  },
                  [](double v, const StepIntegrals&, double) { return v; });
            },
            [&](const ExponentialCurrent& source) {
              const double since = start.time - (conducting_.empty() ? 0 : conducting_.front().on);
              prescribed(current_at(source, since + dt), integrals(source, since, dt));
            },
            [&](const TableCurrent& table) {
              prescribed(current_before(table, start.time + dt), integrals(table, start.time, dt));
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
  if (!start.closed) return 0;
  if (const auto* source = std::get_if<ExponentialCurrent>(&circuit_.source)) {
    return current_at(*source, start.time - (conducting_.empty() ? 0 : conducting_.front().on));
  }
  if (const auto* table = std::get_if<TableCurrent>(&circuit_.source)) {
    return current_at(*table, start.time);
  }
  if (elements_.inductance > 0) return start.current;
  const double v = start.source_voltage;
  if (!(std::abs(v) > back_voltage)) return 0;
  const double resistance = elements_.total_resistance() + load_resistance;
  require(resistance > 0, "the source needs some resistance in its loop");
  return (v - std::copysign(back_voltage, v)) / resistance;
}

LoopState Loop::close_switch(LoopState state) const {
  state.closed = true;
  return state;
}

LoopState Loop::open_switch(LoopState state, double& dumped) const {
  dumped = state.closed ? 0.5 * elements_.inductance * state.current * state.current : 0;
  state.closed = false;
  state.current = 0;
  if (current_is_prescribed()) state.source_voltage = 0;
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
          [](const ExponentialCurrent& source) { return std::abs(source.peak); },
          [](const TableCurrent& table) {
            double largest = 0;
            for (const double i : table.current) largest = std::max(largest, std::abs(i));
            return largest;
          }},
      circuit_.source);
}

}  // namespace tabmelt::circuit
