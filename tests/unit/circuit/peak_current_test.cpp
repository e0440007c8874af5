// The largest current within a step, against the formulas for the series RLC loop started at rest.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/circuit/loop.h"
#include "tests/unit/circuit/bank_circuit.h"

namespace tabmelt::circuit {
namespace {

Loop bank_loop(double capacitance, double voltage, double resistance, double inductance) {
  return Loop(bank_circuit(capacitance, voltage, resistance, inductance));
}

struct Peak {
  double current, time;
};

// i = V/(w L) exp(-d t) sin(w t):  tan(w t) = w/d,  i = V sqrt(C/L) exp(-d t).
Peak ringing(double C, double V, double R, double L) {
  const double d = R / (2 * L), w = std::sqrt(1 / (L * C) - d * d);
  const double t = std::atan2(w, d) / w;
  return {V * std::sqrt(C / L) * std::exp(-d * t), t};
}

// i = V (exp(-a t) - exp(-b t))/(L (b - a)):  t = ln(b/a)/(b - a).
Peak damped(double C, double V, double R, double L) {
  const double d = R / (2 * L), s = std::sqrt(d * d - 1 / (L * C));
  const double a = d - s, b = d + s, t = std::log(b / a) / (b - a);
  return {V * (std::exp(-a * t) - std::exp(-b * t)) / (L * (b - a)), t};
}

void expect_peak(const Loop& loop, const Peak& exact, double end) {
  const StepExtremes whole = loop.advance(closed(loop), end, 0).extremes;
  EXPECT_NEAR(whole.current, exact.current, 1e-12 * exact.current);
  EXPECT_NEAR(whole.current_time, exact.time, 1e-10 * exact.time);
  // However coarse the steps, the largest of theirs is the same.
  for (const int steps : {2, 7, 1000}) {
    LoopState state = closed(loop);
    Peak found{0, 0};
    for (int n = 0; n < steps; ++n) {
      const StepOutcome step = loop.advance(state, end / steps, 0);
      if (step.extremes.current > found.current)
        found = {step.extremes.current, state.time + step.extremes.current_time};
      state = step.state;
    }
    EXPECT_NEAR(found.current, exact.current, 1e-11 * exact.current);
    EXPECT_NEAR(found.time, exact.time, 1e-6 * exact.time);
  }
}

TEST(PeakCurrent, of_a_ringing_loop) {
  for (const double R : {1e-6, 2e-3, 8e-3})
    expect_peak(bank_loop(0.04, 14, R, 1.2e-6), ringing(0.04, 14, R, 1.2e-6), 3e-3);
}

TEST(PeakCurrent, of_a_damped_loop) {
  for (const double R : {0.012, 0.05, 0.4})
    expect_peak(bank_loop(0.04, 14, R, 1.2e-6), damped(0.04, 14, R, 1.2e-6), 3e-3);
}

// 2 V/(e R) at 2 L/R.
TEST(PeakCurrent, at_critical_damping) {
  const double C = 0.04, L = 1e-6, R = 2 * std::sqrt(L / C);
  expect_peak(bank_loop(C, 14, R, L), {2 * 14 / (std::numbers::e * R), 2 * L / R}, 3e-3);
}

TEST(PeakCurrent, without_inductance_is_at_the_start) {
  const Loop loop = bank_loop(0.5, 8, 4e-3, 0);
  const StepExtremes step = loop.advance(closed(loop), 1e-3, 0).extremes;
  EXPECT_DOUBLE_EQ(step.current, 2000);
  EXPECT_EQ(step.current_time, 0);
}

// The bank is driven furthest negative when the current first returns to zero, pi/w after closing:
// -V exp(-d pi/w).
TEST(PeakCurrent, deepest_voltage_is_that_at_the_first_zero_of_the_current) {
  const double C = 0.04, V = 14, R = 2e-3, L = 1.2e-6;
  const double d = R / (2 * L), w = std::sqrt(1 / (L * C) - d * d);
  const Loop loop = bank_loop(C, V, R, L);
  const double deepest = -V * std::exp(-d * std::numbers::pi / w);
  const StepOutcome whole = loop.advance(closed(loop), 4e-3, 0);
  EXPECT_NEAR(whole.extremes.lowest_voltage, deepest, 1e-11 * V);
  EXPECT_GT(whole.state.source_voltage, deepest);
  const StepOutcome early = loop.advance(closed(loop), 0.5 * std::numbers::pi / w, 0);
  EXPECT_EQ(early.extremes.lowest_voltage, early.state.source_voltage);
}

// A recorded or prescribed current: the larger end of a step, or a kink within it.
TEST(PeakCurrent, of_a_prescribed_current) {
  Circuit circuit;
  circuit.source = ExponentialCurrent{600, 1.5e-3};
  const Loop loop(circuit);
  EXPECT_DOUBLE_EQ(loop.advance(closed(loop), 1e-3, 1e-3).extremes.current, 600);
  circuit.source = TableCurrent{{0, 1e-3, 2e-3}, {0, -500, 0}};
  const Loop table(circuit);
  const StepExtremes rise = table.advance(closed(table), 1e-3, 1e-3).extremes;
  EXPECT_DOUBLE_EQ(rise.current, 500);
  EXPECT_DOUBLE_EQ(rise.current_time, 1e-3);
  const StepExtremes whole = table.advance(closed(table), 1.8e-3, 1e-3).extremes;
  EXPECT_DOUBLE_EQ(whole.current, 500);
  EXPECT_DOUBLE_EQ(whole.current_time, 1e-3);
}

TEST(PeakCurrent, of_limited_sources) {
  Circuit circuit;
  circuit.source = BenchSupply{5, 100, 0.01};
  circuit.extra_inductance = 1e-6;
  const Loop supply(circuit);
  EXPECT_DOUBLE_EQ(supply.advance(closed(supply), 1e-3, 0.01).extremes.current, 100);
  const double R = 0.01, V = 12, L = 4e-6, cut = 600, delay = 1e-4;
  circuit.source = Battery{V, 0.006, {}, cut, delay};
  circuit.extra_inductance = L;
  const Loop battery(circuit);
  const double opens = -L / R * std::log1p(-cut * R / V) + delay;
  const StepExtremes through = battery.advance(closed(battery), 5e-3, 0.004).extremes;
  EXPECT_NEAR(through.current, V / R * -std::expm1(-R * opens / L), 1e-9);
  EXPECT_NEAR(through.current_time, opens, 1e-15);
}

}  // namespace
}  // namespace tabmelt::circuit
