// The forward drop of a thyristor where no bank sets the current. Catches: a drop that helps the
// current along, or that nobody pays for.
#include <gtest/gtest.h>

#include "solver/circuit/loop.h"

namespace tabmelt::circuit {
namespace {

LoopState closed(const Loop& loop) { return loop.close_switch(loop.initial_state()); }

template <class Source>
Loop behind_a_thyristor(const Source& source, double resistance) {
  Circuit circuit;
  circuit.source.emplace<Source>(source);
  circuit.extra_resistance = resistance;
  circuit.power_switch.kind = SwitchKind::thyristor;
  circuit.power_switch.forward_drop = 1.2;
  return Loop(circuit);
}

// Also where nothing delays the current, together with the load's back voltage.
TEST(ThyristorDrop, opposes_the_current_at_once) {
  const Loop loop = behind_a_thyristor(Battery{12, 0.004, {}, {}, 0}, 0.006);
  EXPECT_DOUBLE_EQ(loop.current_after(closed(loop), 0, 0.005, 0), (12 - 1.2) / 0.015);
  EXPECT_DOUBLE_EQ(loop.current_after(closed(loop), 0, 0.005, 0.8), (12 - 1.2 - 0.8) / 0.015);
  EXPECT_NEAR(loop.advance(closed(loop), 1e-3, 0.005).state.current, (12 - 1.2) / 0.015, 1e-9);
}

// 100 A for 1 ms have to be driven against 1.2 V and 15 mohm.
TEST(ThyristorDrop, is_paid_for_by_a_prescribed_current) {
  const Loop loop = behind_a_thyristor(TableCurrent{{0, 1}, {100, 100}}, 0.01);
  const StepOutcome step = loop.advance(closed(loop), 1e-3, 0.005);
  EXPECT_NEAR(step.energy.in_switch, 1.2 * 0.1, 1e-14);
  EXPECT_NEAR(step.energy.from_source, 1.2 * 0.1 + 0.015 * 1e4 * 1e-3, 1e-14);
  EXPECT_NEAR(step.state.source_voltage, 100 * 0.015 + 1.2, 1e-12);
}

}  // namespace
}  // namespace tabmelt::circuit
