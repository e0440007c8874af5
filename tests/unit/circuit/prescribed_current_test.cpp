// Currents given as a formula or a table, through the loop.
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "tests/unit/circuit/bank_circuit.h"

namespace tabmelt::circuit {
namespace {

template <class Source>
Loop driven_by(const Source& source) {
  Circuit circuit;
  circuit.source = source;
  return Loop(circuit);
}

LoopState at(const Loop& loop, double time) {
  LoopState state = closed(loop);
  state.time = time;
  return state;
}

const TableCurrent triangle{{1, 2, 4}, {0, 6, 0}};

TEST(PrescribedCurrent, table_is_straight_between_points_and_zero_outside) {
  const Loop loop = driven_by(triangle);
  for (const auto& [time, current] :
       {std::pair(0.5, 0.0), std::pair(1.0, 0.0), std::pair(1.5, 3.0), std::pair(2.0, 6.0),
        std::pair(3.0, 3.0), std::pair(5.0, 0.0)})
    EXPECT_DOUBLE_EQ(current_at_once(loop, at(loop, time), 0), current);
  // Jumps at both ends: a step ends before the jump, the next one starts after it.
  const Loop block = driven_by(TableCurrent{{0, 1}, {5, 7}});
  EXPECT_EQ(current_at_once(block, at(block, 0), 0), 5);
  EXPECT_EQ(block.advance(at(block, -1), 1, 0).state.current, 0);
  EXPECT_EQ(current_at_once(block, at(block, 1), 0), 0);
  EXPECT_EQ(block.advance(at(block, 0.5), 0.5, 0).state.current, 7);
}

TEST(PrescribedCurrent, table_integrals_are_exact) {
  const Loop loop = driven_by(triangle);
  const auto integrals = [&](double time, double dt) {
    return loop.advance(at(loop, time), dt, 0).energy;
  };
  // Triangle: int i dt = 9, int i^2 dt = 36 * 3 / 3.
  EXPECT_DOUBLE_EQ(integrals(0, 10).charge, 9);
  EXPECT_DOUBLE_EQ(integrals(0, 10).square_current, 36);
  EXPECT_DOUBLE_EQ(integrals(1, 1).charge, 3);
  EXPECT_DOUBLE_EQ(integrals(1, 1).square_current, 12);
  // 1.5 to 3: 3 -> 6 over 0.5, 6 -> 3 over 1.
  EXPECT_DOUBLE_EQ(integrals(1.5, 1.5).charge, 4.5 * 1.5);
  EXPECT_DOUBLE_EQ(integrals(1.5, 1.5).square_current, 21 * 1.5);
  EXPECT_EQ(integrals(4, 1).square_current, 0);
  EXPECT_EQ(integrals(0, 1).square_current, 0);
}

// The forward drop is paid in both directions of flow.
TEST(PrescribedCurrent, table_through_zero_counts_both_directions_of_flow) {
  Circuit circuit;
  circuit.source = TableCurrent{{0, 4}, {3, -1}};
  const Loop loop(behind_a_thyristor(circuit, 2));
  const StepOutcome step = loop.advance(closed(loop), 4, 0.5);
  EXPECT_DOUBLE_EQ(step.energy.charge, 4);
  EXPECT_DOUBLE_EQ(step.energy.in_switch, 2 * (4.5 + 0.5));
  EXPECT_DOUBLE_EQ(step.energy.square_current, (27.0 + 1.0) / 3);
  EXPECT_DOUBLE_EQ(step.energy.from_source, 2 * 5 + 0.5 * 28.0 / 3);
  EXPECT_EQ(step.state.current, -1);
  EXPECT_DOUBLE_EQ(step.state.source_voltage, -2.5);
}

TEST(PrescribedCurrent, exponential_integrals_are_exact) {
  const Loop loop = driven_by(ExponentialCurrent{2000, 3e-3});
  const StepEnergy sum = loop.advance(at(loop, 1e-3), 2e-3, 0).energy;
  EXPECT_NEAR(sum.charge, 2000 * 3e-3 * (std::exp(-1.0 / 3) - std::exp(-1.0)), 1e-14);
  EXPECT_NEAR(sum.square_current, 4e6 * 1.5e-3 * (std::exp(-2.0 / 3) - std::exp(-2.0)), 1e-11);
  EXPECT_NEAR(loop.advance(closed(loop), 1e-15, 0).energy.square_current, 4e-9, 1e-20);
  EXPECT_NEAR(loop.advance(closed(loop), 99, 0).energy.charge, 6, 1e-13);
}

TEST(PrescribedCurrent, source_supplies_what_load_and_listed_resistances_take) {
  Circuit circuit;
  circuit.source = ExponentialCurrent{2000, 3e-3};
  circuit.extra_resistance = 2e-4;
  circuit.power_switch.on_resistance = 1e-4;
  circuit.extra_inductance = 1e-6;  // plays no part
  const Loop loop(circuit);
  EXPECT_TRUE(loop.current_is_prescribed());
  EXPECT_EQ(loop.elements().inductance, 0);
  const LoopState start = loop.close_switch(loop.initial_state());
  EXPECT_DOUBLE_EQ(current_at_once(loop, start, 1e-3), 2000);
  const StepOutcome outcome = loop.advance(start, 1e-3, 1e-3);
  const double end = 2000 * std::exp(-1.0 / 3);
  EXPECT_DOUBLE_EQ(outcome.state.current, end);
  EXPECT_DOUBLE_EQ(outcome.state.source_voltage, end * 1.3e-3);
  const StepEnergy& e = outcome.energy;
  EXPECT_EQ(e.to_inductance, 0);
  EXPECT_NEAR(e.in_load_resistance, 1e-3 * 4e6 * 1.5e-3 * -std::expm1(-2.0 / 3), 1e-13);
  EXPECT_NEAR(e.from_source, e.in_load_resistance + e.in_joints + e.in_switch, 1e-14);
  EXPECT_GT(e.in_switch, 0);
  double dumped = -1;
  const LoopState open = loop.open_switch(outcome.state, dumped);
  EXPECT_EQ(dumped, 0);
  EXPECT_EQ(loop.advance(open, 1e-3, 1e-3).energy.from_source, 0);
  EXPECT_EQ(loop.stored_energy(open), 0);
}

TEST(PrescribedCurrent, exponential_counts_from_the_first_closing) {
  Circuit circuit;
  circuit.source = ExponentialCurrent{2000, 3e-3};
  circuit.power_switch.train = {{0, 1e-3}, {1e-3, 1e-3}, {1e-3, 0}};
  const Loop loop(circuit);
  LoopState state = loop.initial_state();
  state.time = 1e-3;
  EXPECT_DOUBLE_EQ(current_at_once(loop, loop.close_switch(state), 0), 2000);
  state.time = 3e-3;  // the second pulse goes on where the formula stands by then
  EXPECT_DOUBLE_EQ(current_at_once(loop, loop.close_switch(state), 0), 2000 * std::exp(-2.0 / 3));
}

TEST(PrescribedCurrent, table_through_the_loop_in_steps_equals_one_step) {
  Circuit circuit;
  circuit.source = TableCurrent{{0, 1e-3, 3e-3}, {500, 1500, 0}};
  const Loop loop(circuit);
  LoopState state = loop.close_switch(loop.initial_state());
  EXPECT_EQ(current_at_once(loop, state, 1e-3), 500);
  EXPECT_DOUBLE_EQ(loop.peak_current_bound(), 1500);
  double energy = 0;
  for (int n = 0; n < 300; ++n) {
    const StepOutcome step = loop.advance(state, 1e-5, 1e-3);
    energy += step.energy.in_load_resistance;
    state = step.state;
  }
  const double exact = 1e-3 * ((0.25e6 + 0.75e6 + 2.25e6) / 3 * 1e-3 + 2.25e6 / 3 * 2e-3);
  EXPECT_NEAR(energy, exact, 1e-12 * exact);
  EXPECT_NEAR(state.current, 0, 1e-6);
}

TEST(PrescribedCurrent, refuses_broken_tables) {
  Circuit circuit;
  circuit.source = TableCurrent{{0, 1, 1}, {1, 2, 3}};
  EXPECT_THROW(Loop{circuit}, std::invalid_argument);
  circuit.source = TableCurrent{{0, 1}, {1, 2, 3}};
  EXPECT_THROW(Loop{circuit}, std::invalid_argument);
  circuit.source = TableCurrent{{0, 1}, {1, NAN}};
  EXPECT_THROW(Loop{circuit}, std::invalid_argument);
  circuit.source = ExponentialCurrent{100, 0};
  EXPECT_THROW(Loop{circuit}, std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::circuit
