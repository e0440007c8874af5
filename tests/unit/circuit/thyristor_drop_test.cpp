// The forward drop of a thyristor where no bank sets the current. Catches: a drop that helps the
// current along, or that nobody pays for.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/unit/circuit/bank_circuit.h"

namespace tabmelt::circuit {
namespace {

// Also where nothing delays the current.
TEST(ThyristorDrop, opposes_the_current_at_once) {
  const Loop loop(behind_a_thyristor(battery_circuit(12, 0.01, 0), 1.2));
  EXPECT_DOUBLE_EQ(current_at_once(loop, closed(loop), 0.005), (12 - 1.2) / 0.015);
  EXPECT_NEAR(loop.advance(closed(loop), 1e-3, 0.005).state.current, (12 - 1.2) / 0.015, 1e-9);
}

TEST(ThyristorDrop, only_takes_energy) {
  // A drop above the source's voltage lets nothing flow.
  for (const double inductance : {0.0, 1e-6}) {
    const Loop blocked(behind_a_thyristor(bank_circuit(0.05, 20, 0.004, inductance), 20.5));
    const StepOutcome nothing = blocked.advance(closed(blocked), 1e-3, 0.001);
    EXPECT_EQ(nothing.state.current, 0);
    EXPECT_EQ(nothing.state.source_voltage, 20);
    EXPECT_EQ(turnover(nothing.energy), 0);
    // Below it, the bank empties down to the drop at most.
    const Loop emptied(behind_a_thyristor(bank_circuit(0.05, 20, 0.004, inductance), 3));
    EXPECT_NEAR(emptied.advance(closed(emptied), 10, 0.05).state.source_voltage, 3, 1e-9);
  }
  const Loop battery(behind_a_thyristor(battery_circuit(12, 0.006, 1e-6), 30));
  LoopState state = closed(battery);
  state.current = 800;
  const StepOutcome stopped = battery.advance(state, 1e-2, 0.001);
  EXPECT_EQ(stopped.state.current, 0);
  EXPECT_TRUE(stopped.state.extinguished);
  // Current 800 A against 18 V through 7 mohm, 1 uH: charge = L I/R - u t0/R.
  const double zero = 1e-6 / 0.007 * std::log1p(800 * 0.007 / 18);
  EXPECT_NEAR(stopped.energy.charge, 1e-6 * 800 / 0.007 - 18 * zero / 0.007, 1e-13);
}

// 100 A for 1 ms have to be driven against 1.2 V and 15 mohm.
TEST(ThyristorDrop, is_paid_for_by_a_prescribed_current) {
  Circuit circuit;
  circuit.source = TableCurrent{{0, 1}, {100, 100}};
  circuit.extra_resistance = 0.01;
  const Loop loop(behind_a_thyristor(circuit, 1.2));
  const StepOutcome step = loop.advance(closed(loop), 1e-3, 0.005);
  EXPECT_NEAR(step.energy.in_switch, 1.2 * 0.1, 1e-14);
  EXPECT_NEAR(step.energy.from_source, 1.2 * 0.1 + 0.015 * 1e4 * 1e-3, 1e-14);
  EXPECT_NEAR(step.state.source_voltage, 100 * 0.015 + 1.2, 1e-12);
}

}  // namespace
}  // namespace tabmelt::circuit
