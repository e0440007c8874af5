// Bench supply, battery with a cut-off, thyristor.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>
#include <stdexcept>

#include "tests/unit/circuit/bank_circuit.h"

namespace tabmelt::circuit {
namespace {

Circuit supply(double voltage, double limit, double internal, double inductance) {
  Circuit circuit;
  circuit.source.emplace<BenchSupply>(BenchSupply{voltage, limit, internal});
  circuit.extra_inductance = inductance;
  return circuit;
}

Circuit battery(double voltage, double internal, double inductance, double cut, double delay) {
  Circuit circuit;
  circuit.source.emplace<Battery>(Battery{voltage, internal, {}, cut, delay});
  circuit.extra_inductance = inductance;
  return circuit;
}

// Ohm's law below the limit, the limit above it.
TEST(BenchSupply, is_a_voltage_behind_its_resistance_up_to_the_limit) {
  const Loop loop(supply(5, 100, 0.01, 0));
  const StepOutcome below = loop.advance(closed(loop), 1e-3, 0.09);
  EXPECT_DOUBLE_EQ(below.state.current, 50);
  EXPECT_DOUBLE_EQ(below.state.source_voltage, 5);
  const StepOutcome above = loop.advance(closed(loop), 1e-3, 0.01);
  EXPECT_DOUBLE_EQ(above.state.current, 100);
  EXPECT_DOUBLE_EQ(above.state.source_voltage, 2);
  EXPECT_NEAR(above.energy.from_source, 2 * 100 * 1e-3, 1e-15);
  EXPECT_DOUBLE_EQ(current_at_once(loop, closed(loop), 0.01), 100);
  EXPECT_DOUBLE_EQ(current_at_once(loop, closed(loop), 0.09), 50);
  EXPECT_DOUBLE_EQ(loop.peak_current_bound(), 100);
}

// i = (V/R)(1 - exp(-R t/L)) until it meets the limit; textbook RL response.
TEST(BenchSupply, rises_through_the_inductance_and_stops_at_the_limit) {
  const double V = 10, R = 0.02, L = 2e-5, limit = 300;
  const Loop loop(supply(V, limit, 0.005, L));
  const double reached = -L / R * std::log1p(-limit * R / V);
  const StepOutcome before = loop.advance(closed(loop), 0.5 * reached, R - 0.005);
  EXPECT_NEAR(before.state.current, V / R * -std::expm1(-R * 0.5 * reached / L), 1e-9);
  const StepOutcome after = loop.advance(closed(loop), 3 * reached, R - 0.005);
  EXPECT_DOUBLE_EQ(after.state.current, limit);
  EXPECT_NEAR(after.energy.to_inductance, 0.5 * L * limit * limit, 1e-12);
  EXPECT_NEAR(after.energy.from_source, sinks(after.energy), 1e-12 * after.energy.from_source);
  // In the limit the supply's voltage is what the loop takes.
  EXPECT_NEAR(after.state.source_voltage, R * limit, 1e-12);
}

TEST(BenchSupply, leaves_the_limit_when_the_load_rises) {
  const double L = 1e-5;
  const Loop loop(supply(10, 100, 0.01, L));
  LoopState state = loop.advance(closed(loop), 0.1, 0.01).state;
  ASSERT_DOUBLE_EQ(state.current, 100);
  const double t = 5e-5, R = 0.2 + 0.01;
  state = loop.advance(state, t, 0.2).state;
  EXPECT_NEAR(state.current, 10 / R + (100 - 10 / R) * std::exp(-R * t / L), 1e-9);
}

TEST(BenchSupply, a_step_may_be_split_anywhere) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> unit(0, 1);
  for (int n = 0; n < 200; ++n) {
    const Circuit plain = supply(3 + 20 * unit(random), 20 + 300 * unit(random),
                                 0.02 * unit(random), unit(random) < 0.3 ? 0 : 3e-5 * unit(random));
    const Loop loop(n % 2 == 0 ? plain : behind_a_thyristor(plain, 3 * unit(random)));
    const double load = 0.001 + 0.1 * unit(random);
    const double dt = 2e-3 * unit(random) + 1e-6, part = dt * unit(random) + 1e-9;
    const StepOutcome whole = loop.advance(closed(loop), dt, load);
    const StepOutcome first = loop.advance(closed(loop), std::min(part, 0.999 * dt), load);
    const StepOutcome second = loop.advance(first.state, dt - std::min(part, 0.999 * dt), load);
    EXPECT_NEAR(whole.state.current, second.state.current, 1e-9 * (1 + whole.state.current));
    EXPECT_NEAR(whole.energy.from_source, first.energy.from_source + second.energy.from_source,
                1e-9 * (1 + whole.energy.from_source));
    EXPECT_NEAR(whole.energy.from_source, sinks(whole.energy),
                1e-9 * (1e-6 + whole.energy.from_source));
  }
}

TEST(CutOff, opens_after_its_delay_wherever_the_step_ends) {
  const double V = 12, R = 0.01, L = 4e-6, cut = 600, delay = 2e-4;
  const Loop loop(battery(V, 0.006, L, cut, delay));
  const double opens = -L / R * std::log1p(-cut * R / V) + delay;
  const double at_opening = V / R * -std::expm1(-R * opens / L);
  const StepOutcome just_before = loop.advance(closed(loop), opens * 0.999, 0.004);
  EXPECT_FALSE(just_before.state.cut_off);
  EXPECT_FALSE(just_before.ended);
  EXPECT_GT(just_before.state.current, cut);
  const StepOutcome whole = loop.advance(closed(loop), 5e-3, 0.004);
  EXPECT_TRUE(whole.state.cut_off);
  ASSERT_TRUE(whole.ended);
  EXPECT_NEAR(*whole.ended, opens, 1e-9 * opens);
  EXPECT_EQ(whole.state.current, 0);
  EXPECT_NEAR(whole.energy.from_source, sinks(whole.energy), 1e-11 * whole.energy.from_source);
  // What the inductance held ends in the protection.
  EXPECT_NEAR(whole.energy.in_source,
              0.006 * whole.energy.square_current + 0.5 * L * at_opening * at_opening, 1e-9);
  // The same in small steps, and nothing flows afterwards.
  LoopState state = closed(loop);
  double charge = 0;
  for (int n = 0; n < 500; ++n) {
    const StepOutcome step = loop.advance(state, 1e-5, 0.004);
    charge += step.energy.charge;
    state = step.state;
  }
  EXPECT_TRUE(state.cut_off);
  EXPECT_NEAR(charge, whole.energy.charge, 1e-9 * charge);
  EXPECT_EQ(loop.advance(state, 1e-3, 0.001).energy.charge, 0);
  double dumped = 0;
  state = loop.close_switch(loop.open_switch(state, dumped));
  EXPECT_EQ(loop.advance(state, 1e-3, 0.001).energy.charge, 0);
  EXPECT_EQ(dumped, 0);
}

TEST(CutOff, a_short_excess_is_let_through) {
  const Loop loop(battery(12, 0.006, 0, 600, 1e-3));
  LoopState state = loop.advance(closed(loop), 0.8e-3, 0.004).state;
  EXPECT_GT(state.current, 600);
  state = loop.advance(state, 0.5e-3, 0.1).state;  // the load rises, the current falls
  EXPECT_FALSE(state.cut_off);
  EXPECT_EQ(state.over_time, 0);
  state = loop.advance(state, 0.8e-3, 0.004).state;
  EXPECT_FALSE(state.cut_off);
  EXPECT_TRUE(loop.advance(state, 0.3e-3, 0.004).state.cut_off);
}

TEST(CutOff, below_it_nothing_happens) {
  const Loop with(battery(12, 0.02, 3e-6, 700, 0));
  Circuit plain = with.circuit();
  std::get<Battery>(plain.source).cut_off_current.reset();
  const Loop without(plain);
  const StepOutcome a = with.advance(closed(with), 5e-3, 0.001);
  const StepOutcome b = without.advance(closed(without), 5e-3, 0.001);
  EXPECT_DOUBLE_EQ(a.state.current, b.state.current);
  EXPECT_DOUBLE_EQ(a.energy.from_source, b.energy.from_source);
}

// Without resistance the bank would be left at -V0 when the current first comes to zero, after half
// a period pi sqrt(L C); the forward drop takes 2 U off the swing.
TEST(Thyristor, lets_one_half_swing_through_and_blocks) {
  const Loop loop(behind_a_thyristor(bank_circuit(0.02, 15, 1e-9, 5e-6), 1.2));
  const double half = std::numbers::pi * std::sqrt(5e-6 * 0.02);
  EXPECT_FALSE(loop.advance(closed(loop), 0.999 * half, 0).state.extinguished);
  const StepOutcome whole = loop.advance(closed(loop), 4 * half, 0);
  EXPECT_TRUE(whole.state.extinguished);
  EXPECT_EQ(whole.state.current, 0);
  EXPECT_NEAR(whole.state.source_voltage, -(15 - 2 * 1.2), 1e-4);
  EXPECT_NEAR(whole.energy.in_switch, 1.2 * 0.02 * (15 + 15 - 2 * 1.2), 1e-5);
  EXPECT_NEAR(whole.energy.from_source, sinks(whole.energy), 1e-11);
  EXPECT_EQ(loop.advance(whole.state, 1e-3, 0).energy.charge, 0);
  // A new trigger finds it reversed: it blocks.
  double dumped = 0;
  const LoopState again = loop.close_switch(loop.open_switch(whole.state, dumped));
  EXPECT_EQ(loop.advance(again, 1e-3, 0).energy.charge, 0);
}

TEST(LimitedSource, nonsense_is_refused) {
  EXPECT_THROW(Loop(supply(5, 0, 0.01, 0)), std::invalid_argument);
  EXPECT_THROW(Loop(supply(5, 10, -0.01, 0)), std::invalid_argument);
  EXPECT_THROW(Loop(battery(12, 0.01, 0, 0, 0)), std::invalid_argument);
  EXPECT_THROW(Loop(battery(12, 0.01, 0, 10, -1)), std::invalid_argument);
  const Loop shorted(supply(5, 100, 0, 0));
  EXPECT_DOUBLE_EQ(shorted.advance(closed(shorted), 1e-3, 0).state.current, 100);
}

TEST(Pieces, add_resistance_and_inductance_to_the_leads) {
  Circuit circuit = battery(12, 0.01, 0, 1e9, 0);
  // A brass bar 10 x 3 mm, 0.2 m long, twice: 2 * 6.6e-8 * 0.2 / 3e-5.
  circuit.pieces = {{"bar", 0.2, 3e-5, 6.6e-8, 2, 1e-7}};
  const LoopElements e = elements(circuit);
  EXPECT_NEAR(e.lead_resistance, 2 * 6.6e-8 * 0.2 / 3e-5, 1e-18);
  EXPECT_DOUBLE_EQ(e.inductance, 1e-7);
  circuit.pieces[0].cross_section = 0;
  EXPECT_THROW(elements(circuit), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::circuit
