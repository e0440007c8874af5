// Marches a bank or a battery through one step with a constant load, one stretch between two zeros
// of the current at a time, and books the energies. Equations: circuit/loop.h.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/circuit/discharge.h"
#include "solver/circuit/loop.h"

namespace tabmelt::circuit {

// What the current meets besides the elements of the loop.
struct StepLoad {
  double resistance = 0;    // [ohm]
  double back_voltage = 0;  // [V] of the load
};

// Energies that all follow from the integrals over a stretch of the step.
void book(StepEnergy& energy, const LoopElements& loop, const StepLoad& load, double charge,
          double absolute_charge, double square_current);

// Notes a current [A] at a time [s] since the start of the step.
inline void note_current(StepExtremes& extremes, double time, double current) {
  if (!(std::abs(current) > extremes.current)) return;
  extremes.current = std::abs(current);
  extremes.current_time = time;
}

// `motion_from(start)` gives the exact motion, `voltage_after(v, step, back)` the source voltage at
// its end. With a thyristor (`one_way`) the current stays zero once it has come to zero.
template <typename MotionFrom, typename VoltageAfter>
StepOutcome march(const LoopState& start, double dt, const LoopElements& loop, const StepLoad& load,
                  bool one_way, const MotionFrom& motion_from, const VoltageAfter& voltage_after) {
  StepOutcome outcome{start, {}, {}};
  outcome.extremes.lowest_voltage = start.source_voltage;
  double& v = outcome.state.source_voltage;
  double& i = outcome.state.current;
  const double inductance = loop.inductance;
  const double back_voltage = load.back_voltage + loop.switch_drop;
  const bool finds_zero = back_voltage > 0 || one_way;
  if (inductance == 0) i = 0;  // follows the voltage, remembers nothing
  for (double left = dt; left > 0;) {
    const double back = std::copysign(back_voltage, i != 0 ? i : v);
    const double drive = v - back;
    // Nothing flows and the back voltage cannot be overcome, or the switch blocks.
    if (i == 0 && (!(std::abs(v) > back_voltage) || (one_way && v < 0))) break;
    const auto motion = motion_from(LoopPoint{i, drive});
    const double reversal = motion.first_reversal();
    const bool stops = finds_zero && reversal <= left;
    const double stretch = stops ? reversal : left;
    const StepIntegrals step = motion.integrals(stretch);
    const double change = stops ? -i : step.current_change;
    const double end_current = stops ? 0.0 : step.end.current;
    const double end_voltage = voltage_after(v, step, back);
    const double since = dt - left;
    note_current(outcome.extremes, since, motion.at(0).current);
    if (const double top = motion.first_extreme(); top < stretch)
      note_current(outcome.extremes, since + top, motion.at(top).current);
    note_current(outcome.extremes, since + stretch, end_current);
    const double turning = reversal < stretch ? motion.at(reversal).drive + back : end_voltage;
    outcome.extremes.lowest_voltage =
        std::min({outcome.extremes.lowest_voltage, turning, end_voltage});
    outcome.energy.from_source += step.charge * 0.5 * (v + end_voltage);
    if (inductance > 0) {
      outcome.energy.to_inductance += inductance * change * 0.5 * (i + end_current);
    }
    book(outcome.energy, loop, load, step.charge, std::abs(step.charge), step.square_current);
    v = end_voltage;
    i = end_current;
    left = stops ? left - stretch : 0;
    if (stops && one_way) {
      outcome.state.extinguished = true;
      break;
    }
  }
  return outcome;
}

}  // namespace tabmelt::circuit
