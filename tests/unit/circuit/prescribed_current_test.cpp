#include "solver/circuit/prescribed_current.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>
#include <vector>

#include "solver/circuit/loop.h"

namespace tabmelt::circuit {
namespace {

const TableCurrent triangle{{1, 2, 4}, {0, 6, 0}};

TEST(PrescribedCurrent, table_is_straight_between_points_and_zero_outside) {
  EXPECT_EQ(current_at(triangle, 0.5), 0);
  EXPECT_EQ(current_at(triangle, 1), 0);
  EXPECT_DOUBLE_EQ(current_at(triangle, 1.5), 3);
  EXPECT_DOUBLE_EQ(current_at(triangle, 2), 6);
  EXPECT_DOUBLE_EQ(current_at(triangle, 3), 3);
  EXPECT_EQ(current_at(triangle, 5), 0);
  // Jumps at both ends.
  const TableCurrent block{{0, 1}, {5, 7}};
  EXPECT_EQ(current_at(block, 0), 5);
  EXPECT_EQ(current_before(block, 0), 0);
  EXPECT_EQ(current_at(block, 1), 0);
  EXPECT_EQ(current_before(block, 1), 7);
}

TEST(PrescribedCurrent, table_integrals_are_exact) {
  // Triangle: int i dt = 9, int i^2 dt = 36 * 3 / 3.
  const CurrentIntegrals whole = integrals(triangle, 0, 10);
  EXPECT_DOUBLE_EQ(whole.charge, 9);
  EXPECT_DOUBLE_EQ(whole.square_current, 36);
  const CurrentIntegrals rise = integrals(triangle, 1, 1);
  EXPECT_DOUBLE_EQ(rise.charge, 3);
  EXPECT_DOUBLE_EQ(rise.square_current, 12);
  // 1.5 to 3: 3 -> 6 over 0.5, 6 -> 3 over 1.
  const CurrentIntegrals across = integrals(triangle, 1.5, 1.5);
  EXPECT_DOUBLE_EQ(across.charge, 4.5 * 1.5);
  EXPECT_DOUBLE_EQ(across.square_current, 21 * 1.5);
  EXPECT_EQ(integrals(triangle, 4, 1).square_current, 0);
  EXPECT_EQ(integrals(triangle, 0, 1).square_current, 0);
}

TEST(PrescribedCurrent, table_through_zero_counts_both_directions_of_flow) {
  const TableCurrent swing{{0, 4}, {3, -1}};
  const CurrentIntegrals sum = integrals(swing, 0, 4);
  EXPECT_DOUBLE_EQ(sum.charge, 4);
  EXPECT_DOUBLE_EQ(sum.absolute_charge, 4.5 + 0.5);
  EXPECT_DOUBLE_EQ(sum.square_current, (27.0 + 1.0) / 3);
}

TEST(PrescribedCurrent, exponential_integrals_are_exact) {
  const ExponentialCurrent source{2000, 3e-3};
  const CurrentIntegrals sum = integrals(source, 1e-3, 2e-3);
  EXPECT_NEAR(sum.charge, 2000 * 3e-3 * (std::exp(-1.0 / 3) - std::exp(-1.0)), 1e-14);
  EXPECT_NEAR(sum.square_current, 4e6 * 1.5e-3 * (std::exp(-2.0 / 3) - std::exp(-2.0)), 1e-11);
  EXPECT_NEAR(integrals(source, 0, 1e-15).square_current, 4e-9, 1e-20);
  EXPECT_EQ(current_at(source, -1e-6), 0);
  EXPECT_NEAR(integrals(source, -1, 100).charge, 6, 1e-13);
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
  EXPECT_DOUBLE_EQ(loop.current_after(start, 0, 1e-3, 0.5), 2000);
  const StepOutcome outcome = loop.advance(start, 1e-3, 1e-3, 0.5);
  const double end = 2000 * std::exp(-1.0 / 3);
  EXPECT_DOUBLE_EQ(outcome.state.current, end);
  EXPECT_DOUBLE_EQ(outcome.state.source_voltage, end * 1.3e-3 + 0.5);
  const StepEnergy& e = outcome.energy;
  EXPECT_EQ(e.to_inductance, 0);
  EXPECT_DOUBLE_EQ(e.in_back_voltage, 0.5 * e.charge);
  EXPECT_NEAR(e.in_load_resistance, 1e-3 * 4e6 * 1.5e-3 * -std::expm1(-2.0 / 3), 1e-13);
  EXPECT_NEAR(e.from_source, e.in_load_resistance + e.in_back_voltage + e.in_joints + e.in_switch,
              1e-14);
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
  EXPECT_DOUBLE_EQ(loop.current_after(loop.close_switch(state), 0, 0, 0), 2000);
  state.time = 3e-3;  // the second pulse goes on where the formula stands by then
  EXPECT_DOUBLE_EQ(loop.current_after(loop.close_switch(state), 0, 0, 0),
                   2000 * std::exp(-2.0 / 3));
}

TEST(PrescribedCurrent, table_through_the_loop_in_steps_equals_one_step) {
  Circuit circuit;
  circuit.source = TableCurrent{{0, 1e-3, 3e-3}, {500, 1500, 0}};
  const Loop loop(circuit);
  LoopState state = loop.close_switch(loop.initial_state());
  EXPECT_EQ(loop.current_after(state, 0, 1e-3, 0), 500);
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
