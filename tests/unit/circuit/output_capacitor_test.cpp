// A bench supply whose output capacitor dumps its charge into the weld, against closed forms.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "tests/unit/circuit/bank_circuit.h"

namespace tabmelt::circuit {
namespace {

Loop supply_loop(const BenchSupply& supply, double inductance, double drop = 0) {
  Circuit circuit;
  circuit.source.emplace<BenchSupply>(supply);
  circuit.extra_inductance = inductance;
  if (drop > 0) {
    circuit.power_switch.kind = SwitchKind::thyristor;
    circuit.power_switch.forward_drop = drop;
  }
  return Loop(circuit);
}

// Limited from the first moment: with x = i - I, x = (V - R I)/(R + R_c) exp(-t/((R + R_c) C)).
TEST(OutputCapacitor, without_inductance_the_surge_is_one_exponential_above_the_limit) {
  const double V = 12, I = 30, C = 2e-3, R = 0.02;
  for (const double Rc : {0.0, 0.015}) {
    const Loop loop = supply_loop({V, I, 0.005, C, Rc}, 0);
    const double first = (V - R * I) / (R + Rc), tau = (R + Rc) * C;
    for (const double t : {1e-6, 4e-5, 3e-4}) {
      const StepOutcome step = loop.advance(closed(loop), t, R - 0.005);
      const double x = first * std::exp(-t / tau);
      EXPECT_NEAR(step.state.current, I + x, 1e-11 * first);
      EXPECT_NEAR(step.state.store_voltage, R * I + (R + Rc) * x, 1e-11 * V);
      EXPECT_NEAR(step.extremes.current, I + first, 1e-11 * first);
      EXPECT_EQ(step.extremes.current_time, 0);
      EXPECT_NEAR(step.energy.from_source, sinks(step.energy), 1e-11 * step.energy.from_source);
    }
    EXPECT_NEAR(current_at_once(loop, closed(loop), R - 0.005), I + first, 1e-11 * first);
    // Long after it is the limit, and the capacitor has given C (V - R I).
    const StepOutcome late = loop.advance(closed(loop), 1, R - 0.005);
    EXPECT_NEAR(late.state.current, I, 1e-11);
    EXPECT_NEAR(late.energy.charge, I * 1 + C * (V - R * I), 1e-10);
  }
}

// The current first rises as behind a battery, V/R (1 - exp(-R t/L)), to the limit; from there
// x = i - I swings: x = u0/(w L) exp(-d t) sin(w t), u0 = V - R I.
TEST(OutputCapacitor, with_inductance_it_rises_and_then_swings_about_the_limit) {
  const double V = 12, I = 30, C = 2e-3, R = 0.02, L = 2e-6;
  const Loop loop = supply_loop({V, I, 0.005, C, 0}, L);
  const double reached = -L / R * std::log1p(-I * R / V);
  const double d = R / (2 * L), w = std::sqrt(1 / (L * C) - d * d), u0 = V - R * I;
  EXPECT_NEAR(loop.advance(closed(loop), 0.5 * reached, R - 0.005).state.current,
              V / R * -std::expm1(-0.5 * R * reached / L), 1e-10);
  for (const double t : {1e-6, 5e-5, 2e-4, 6e-4}) {
    const StepOutcome step = loop.advance(closed(loop), reached + t, R - 0.005);
    EXPECT_NEAR(step.state.current, I + u0 / (w * L) * std::exp(-d * t) * std::sin(w * t), 1e-8);
    EXPECT_LT(step.state.source_voltage, V);
  }
  const double top = std::atan2(w, d) / w;
  const StepExtremes whole = loop.advance(closed(loop), 1e-3, R - 0.005).extremes;
  EXPECT_NEAR(whole.current, I + u0 * std::sqrt(C / L) * std::exp(-d * top), 1e-8);
  EXPECT_NEAR(whole.current_time, reached + top, 1e-12);
  EXPECT_LT(whole.current, loop.peak_current_bound());
}

// Below the limit it is never asked for anything.
TEST(OutputCapacitor, stays_charged_while_the_load_needs_less_than_the_limit) {
  const Loop with = supply_loop({5, 100, 0.01, 1e-3, 0.02}, 3e-6);
  const Loop without = supply_loop({5, 100, 0.01}, 3e-6);
  const StepOutcome a = with.advance(closed(with), 2e-3, 0.09);
  const StepOutcome b = without.advance(closed(without), 2e-3, 0.09);
  EXPECT_DOUBLE_EQ(a.state.current, b.state.current);
  EXPECT_DOUBLE_EQ(a.energy.from_source, b.energy.from_source);
  EXPECT_DOUBLE_EQ(a.state.store_voltage, 5);
}

TEST(OutputCapacitor, a_vanishing_one_is_none) {
  const Loop with = supply_loop({10, 300, 0.005, 1e-12, 0}, 2e-5);
  const Loop without = supply_loop({10, 300, 0.005}, 2e-5);
  for (const double load : {0.015, 0.1}) {
    const StepOutcome a = with.advance(closed(with), 1e-3, load);
    const StepOutcome b = without.advance(closed(without), 1e-3, load);
    EXPECT_NEAR(a.energy.in_load_resistance, b.energy.in_load_resistance,
                1e-5 * b.energy.in_load_resistance);
  }
}

// Open: with I until V - R_c I, the rest through R_c.
TEST(OutputCapacitor, recovers_between_two_pulses) {
  const double V = 12, I = 5, C = 2e-3, Rc = 0.1;
  const Loop loop = supply_loop({V, I, 0.005, C, Rc}, 0);
  double dumped = 0;
  LoopState state = loop.advance(closed(loop), 1e-3, 0.05).state;
  const double v = state.store_voltage;
  ASSERT_LT(v, 2);
  state = loop.open_switch(state, dumped);
  const double limited = C * (V - Rc * I - v) / I;
  const LoopState half = loop.advance(state, 0.5 * limited, 0).state;
  EXPECT_NEAR(half.store_voltage, v + 0.5 * I * limited / C, 1e-12);
  EXPECT_NEAR(half.source_voltage, half.store_voltage + Rc * I, 1e-12);
  const StepOutcome later = loop.advance(state, limited + Rc * C, 0);
  EXPECT_NEAR(later.state.store_voltage, V - Rc * I * std::exp(-1.0), 1e-12);
  EXPECT_EQ(later.state.source_voltage, V);
  EXPECT_NEAR(later.energy.in_source,
              Rc * I * I * limited + 0.5 * C * std::pow(Rc * I, 2) * -std::expm1(-2.0), 1e-12);
  EXPECT_DOUBLE_EQ(later.energy.from_source, later.energy.in_source);
}

// The load rises while the capacitor is empty: the limit refills it beside the load, and from the
// moment the node is back at V the rest of the charge comes through R_c.
TEST(OutputCapacitor, goes_back_to_holding_its_voltage) {
  const double V = 12, I = 30, C = 2e-3, Rc = 0.02, heavy = 0.02, light = 1.0;
  const Loop loop = supply_loop({V, I, 0.0, C, Rc}, 0);
  const LoopState empty = loop.advance(closed(loop), 1, heavy).state;
  ASSERT_NEAR(empty.store_voltage, heavy * I, 1e-10);
  // x = (v - R I)/(R + R_c); the node v - R_c x meets V at v_m = V - R_c (I - V/R).
  const double meets = V - Rc * (I - V / light), tau = (light + Rc) * C;
  const double time = -tau * std::log((meets - light * I) / (empty.store_voltage - light * I));
  const LoopState before = loop.advance(empty, 0.999 * time, light).state;
  EXPECT_LT(before.source_voltage, V);
  EXPECT_LT(before.current, V / light);
  const LoopState after = loop.advance(empty, time + Rc * C, light).state;
  EXPECT_EQ(after.source_voltage, V);
  EXPECT_NEAR(after.current, V / light, 1e-12);
  EXPECT_NEAR(after.store_voltage, V - (V - meets) * std::exp(-1.0), 1e-9);
}

TEST(OutputCapacitor, a_step_may_be_split_anywhere_and_its_books_close) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> unit(0, 1);
  for (int n = 0; n < 2000; ++n) {
    const double L = unit(random) < 0.3 ? 0 : std::pow(10, -8 + 3 * unit(random));
    const double drop = unit(random) < 0.5 ? 0 : 3 * unit(random);
    const BenchSupply supply{3 + 20 * unit(random), 2 + 100 * unit(random), 0.02 * unit(random),
                             std::pow(10, -5 + 4 * unit(random)),
                             unit(random) < 0.3 ? 0 : 0.05 * unit(random)};
    const Loop loop = supply_loop(supply, L, drop);
    const double load = 0.001 + std::pow(10, -2 + 2 * unit(random));
    // Some state on the way, with another load.
    const LoopState state = loop.advance(closed(loop), 2e-3 * unit(random) + 1e-6, 0.01).state;
    const double dt = 2e-3 * unit(random) + 1e-6, part = dt * (0.001 + 0.998 * unit(random));
    const StepOutcome whole = loop.advance(state, dt, load);
    const StepOutcome first = loop.advance(state, part, load);
    const StepOutcome second = loop.advance(first.state, dt - part, load);
    const double scale = 1 + whole.extremes.current;
    EXPECT_NEAR(whole.state.current, second.state.current, 1e-7 * scale) << n;
    EXPECT_NEAR(whole.state.store_voltage, second.state.store_voltage, 1e-8 * scale) << n;
    EXPECT_NEAR(whole.energy.charge, first.energy.charge + second.energy.charge,
                1e-9 * scale * dt + 1e-10)
        << n;
    const double energy =
        std::abs(whole.energy.from_source) + std::abs(whole.energy.to_inductance) + 1e-6;
    EXPECT_NEAR(whole.energy.from_source, first.energy.from_source + second.energy.from_source,
                1e-8 * energy)
        << n;
    EXPECT_NEAR(whole.energy.from_source, sinks(whole.energy), 1e-9 * energy) << n;
    EXPECT_NEAR(whole.extremes.current, std::max(first.extremes.current, second.extremes.current),
                1e-7 * scale)
        << n;
    EXPECT_NEAR(whole.extremes.lowest_voltage,
                std::min(first.extremes.lowest_voltage, second.extremes.lowest_voltage),
                1e-7 * scale)
        << n;
  }
}

TEST(OutputCapacitor, a_thyristor_goes_out_when_the_surge_swings_back) {
  const Loop loop = supply_loop({12, 5, 0.002, 2e-3, 0.001}, 4e-6, 1.2);
  const StepOutcome step = loop.advance(closed(loop), 5e-3, 0.002);
  EXPECT_TRUE(step.state.extinguished);
  EXPECT_EQ(step.state.current, 0);
  EXPECT_GT(step.state.store_voltage, -12);
  EXPECT_NEAR(step.energy.from_source, sinks(step.energy), 1e-10);
  const LoopState later = loop.advance(step.state, 1, 0.002).state;
  EXPECT_EQ(later.current, 0);
  EXPECT_NEAR(later.store_voltage, 12, 1e-9);
}

TEST(OutputCapacitor, nonsense_is_refused) {
  EXPECT_THROW(supply_loop({12, 5, 0, -1e-3, 0}, 0), std::invalid_argument);
  EXPECT_THROW(supply_loop({12, 5, 0, 1e-3, -0.1}, 0), std::invalid_argument);
  // Nothing limits the current of the capacitor.
  const Loop shorted = supply_loop({12, 5, 0, 1e-3, 0}, 0);
  EXPECT_THROW(shorted.advance(closed(shorted), 1e-3, 0), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::circuit
