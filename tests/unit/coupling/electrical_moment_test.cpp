// Electrical values belong to the times beside them.
// Catches: values of the middle of a step at its end; values drawn across a switching.
#include "solver/coupling/electrical_moment.h"

#include <gtest/gtest.h>

namespace tabmelt {
namespace {

// R(t) = 1 + 3 t ohm, one contact at half of it, read at the middle of each step.
StepRecord record(double from, double to) {
  StepRecord r;
  r.time = to;
  r.step = to - from;
  r.current = 2;
  r.load_resistance = 1 + 1.5 * (from + to);
  r.load_voltage = r.load_resistance * r.current;
  r.base_share = 0.25 * r.load_resistance / 2;
  r.spots.resize(1);
  r.spots[0].resistance = r.load_resistance;
  r.spots[0].energy_expelled = 7;
  r.spots[0].contacts = {{0.5 * r.load_resistance, 0.1, 1e-9}};
  return r;
}

TEST(ElectricalMoments, move_a_straight_line_exactly) {
  ElectricalMoments moments;
  std::vector<StepRecord> history;
  double t = 0;
  for (const double step : {0.01, 0.02, 0.01, 0.05}) {
    StepRecord now = record(t, t + step);
    t += step;
    moments.add(history.empty() ? nullptr : &history.back(), now);
    history.push_back(now);
  }
  for (const StepRecord& r : history) {
    EXPECT_NEAR(r.load_resistance, 1 + 3 * r.time, 1e-12);
    EXPECT_NEAR(r.load_voltage, 2 * (1 + 3 * r.time), 1e-12);
    EXPECT_NEAR(r.base_share, 0.125 * (1 + 3 * r.time), 1e-12);
    EXPECT_NEAR(r.spots[0].resistance, 1 + 3 * r.time, 1e-12);
    EXPECT_NEAR(r.spots[0].contacts[0].resistance, 0.5 * (1 + 3 * r.time), 1e-12);
    EXPECT_EQ(r.spots[0].energy_expelled, 7);
  }
}

TEST(ElectricalMoments, draw_no_line_across_a_switching) {
  ElectricalMoments moments;
  StepRecord before = record(0, 0.01);
  moments.add(nullptr, before);
  moments.forget();
  StepRecord after = record(1, 1.01);
  moments.add(&before, after);
  EXPECT_NEAR(before.load_resistance, 1.015, 1e-12);
  EXPECT_NEAR(after.load_resistance, 4.015, 1e-12);
}

// A resistance that falls to nothing within a step is not drawn below zero.
TEST(ElectricalMoments, stay_between_nothing_and_twice_the_larger) {
  ElectricalMoments moments;
  StepRecord first = record(0, 0.001), second = record(0.001, 0.1);
  second.load_resistance = 0.01;
  moments.add(nullptr, first);
  moments.add(&first, second);
  EXPECT_EQ(second.load_resistance, 0);
  EXPECT_GT(first.load_resistance, 0.9);
}

}  // namespace
}  // namespace tabmelt
