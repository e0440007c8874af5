#include "solver/circuit/supply_step.h"

#include <algorithm>
#include <limits>
#include <stdexcept>

#include "solver/circuit/output_capacitor.h"

namespace tabmelt::circuit {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

double whole_resistance(const LoopElements& loop, const StepLoad& load) {
  return loop.total_resistance() + load.resistance;
}

// At constant source voltage; infinity if the current never gets there.
double time_to_current(double current, double from, double voltage, const LoopElements& loop,
                       const StepLoad& load) {
  const double R = whole_resistance(loop, load);
  const double drive = voltage - load.back_voltage - loop.switch_drop - R * from;
  const double way = current - from;
  if (way == 0) return 0;
  if (way * drive <= 0) return infinity;
  const double q = way * R / drive;
  if (q >= 1) return infinity;
  return R > 0 ? -loop.inductance / R * std::log1p(-q) : loop.inductance * way / drive;
}

StepOutcome at_constant_voltage(const LoopState& start, double dt, const LoopElements& loop,
                                const StepLoad& load, bool one_way) {
  const double R = whole_resistance(loop, load);
  if (!(R > 0) && !(loop.inductance > 0))
    throw std::invalid_argument("a battery or supply needs some resistance or inductance");
  return march(
      start, dt, loop, load, one_way,
      [&](const LoopPoint& point) { return BatteryDischarge(R, loop.inductance, point); },
      [](double v, const StepIntegrals&, double) { return v; });
}

void add(StepEnergy& sum, const StepEnergy& more) {
  sum.square_current += more.square_current;
  sum.charge += more.charge;
  sum.from_source += more.from_source;
  sum.in_source += more.in_source;
  sum.in_leads += more.in_leads;
  sum.in_joints += more.in_joints;
  sum.in_switch += more.in_switch;
  sum.in_load_resistance += more.in_load_resistance;
  sum.in_back_voltage += more.in_back_voltage;
  sum.to_inductance += more.to_inductance;
}

// The current stays at the limit, the supply gives what voltage that takes.
StepOutcome at_constant_current(LoopState start, double current, double dt,
                                const LoopElements& loop, const StepLoad& load) {
  StepOutcome outcome{start, {}, {}};
  outcome.state.current = current;
  outcome.state.source_voltage =
      whole_resistance(loop, load) * current + load.back_voltage + loop.switch_drop;
  const double charge = current * dt;
  book(outcome.energy, loop, load, charge, charge, current * charge);
  outcome.energy.from_source = outcome.state.source_voltage * charge;
  outcome.extremes = {current, 0, outcome.state.source_voltage};
  return outcome;
}

}  // namespace

StepOutcome supply_step(const BenchSupply& supply, const LoopState& start, double dt,
                        const LoopElements& loop, const StepLoad& load, bool one_way) {
  if (supply.output_capacitance > 0)
    return output_capacitor_step(supply, start, dt, loop, load, one_way);
  LoopState state = start;
  state.source_voltage = supply.voltage;
  const double limit = supply.current_limit;
  const double left_over = supply.voltage - load.back_voltage - loop.switch_drop;
  double limited_after = infinity;
  if (loop.inductance == 0) {
    if (left_over > whole_resistance(loop, load) * limit) limited_after = 0;
  } else if (state.current >= limit) {
    if (left_over >= whole_resistance(loop, load) * limit) limited_after = 0;
  } else {
    limited_after = time_to_current(limit, state.current, supply.voltage, loop, load);
  }
  if (limited_after >= dt) return at_constant_voltage(state, dt, loop, load, one_way);
  StepOutcome outcome{state, {}, {}};
  outcome.extremes.lowest_voltage = supply.voltage;
  if (limited_after > 0) outcome = at_constant_voltage(state, limited_after, loop, load, one_way);
  const StepOutcome rest =
      at_constant_current(outcome.state, limit, dt - limited_after, loop, load);
  outcome.state = rest.state;
  add(outcome.energy, rest.energy);
  note_current(outcome.extremes, limited_after, limit);
  outcome.extremes.lowest_voltage =
      std::min(outcome.extremes.lowest_voltage, rest.extremes.lowest_voltage);
  return outcome;
}

StepOutcome battery_step(const Battery& battery, const LoopState& start, double dt,
                         const LoopElements& loop, const StepLoad& load, bool one_way) {
  StepOutcome whole = at_constant_voltage(start, dt, loop, load, one_way);
  if (!battery.cut_off_current) return whole;
  const double cut = *battery.cut_off_current;
  const double first = loop.inductance > 0 ? start.current : whole.state.current;
  const bool over_first = first >= cut, over_last = whole.state.current >= cut;
  whole.state.over_time = 0;
  if (!over_first && !over_last) return whole;
  const double crossing =
      over_first ? 0 : time_to_current(cut, first, battery.open_circuit_voltage, loop, load);
  const double before = over_first ? start.over_time : 0;
  const double over_until =
      over_last ? dt : time_to_current(cut, first, battery.open_circuit_voltage, loop, load);
  const double opens = crossing + std::max(0.0, battery.cut_off_delay - before);
  if (opens > over_until) {
    if (over_last) whole.state.over_time = before + dt - crossing;
    return whole;
  }
  StepOutcome outcome{start, {}, {}};
  outcome.extremes.lowest_voltage = start.source_voltage;
  if (opens > 0) outcome = at_constant_voltage(start, opens, loop, load, one_way);
  const double i = outcome.state.current;
  const double spent = 0.5 * loop.inductance * i * i;
  outcome.energy.to_inductance -= spent;
  outcome.energy.in_source += spent;
  outcome.state.current = 0;
  outcome.state.cut_off = true;
  return outcome;
}

}  // namespace tabmelt::circuit
