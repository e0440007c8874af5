// Two tips on the circuit's clock.
#include "solver/pressing/touch_down.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace tabmelt {
namespace {

Problem landing(double height_difference, double mass = 0) {
  Problem p;
  p.under_tip().roughness = 1e-6;
  p.arrangement.spots = 2;
  p.pressing.closing = Closing::unswitched;
  p.pressing.force = 10;
  p.pressing.approach_speed = 0.05;
  p.pressing.tip_stiffness = 2000;
  p.pressing.height_difference = height_difference;
  p.pressing.moving_mass = mass;
  p.pressing.restitution = mass > 0 ? 0.5 : 0;
  p.pressing.impact_time = 2e-4;
  return p;
}

TEST(TouchDownClock, the_first_tip_presses_by_stiffness_times_difference_as_the_second_lands) {
  const TouchDown clock(landing(1e-4));
  ASSERT_EQ(clock.tips(), 2U);
  EXPECT_DOUBLE_EQ(clock.ahead(1), 1e-4 / 0.05);
  EXPECT_EQ(clock.force(0, 0), 0);
  EXPECT_DOUBLE_EQ(clock.force(1, 0), 2000 * 1e-4);
  // Both go on rising alike, up to the holding force.
  EXPECT_NEAR(clock.force(1, 0.01) - clock.force(0, 0.01), 0.2, 1e-12);
  EXPECT_EQ(clock.force(0, 1), 10);
  EXPECT_EQ(clock.force(1, 1), 10);
  EXPECT_TRUE(clock.all_touch(0));
  EXPECT_TRUE(clock.event_times().empty());
}

TEST(TouchDownClock, the_other_tip_is_judged_on_request) {
  Problem p = landing(1e-4);
  p.pressing.judged = JudgedTip::lands_first;
  const TouchDown clock(p);
  EXPECT_DOUBLE_EQ(clock.force(0, 0), 0.2);
  EXPECT_EQ(clock.force(1, 0), 0);
}

TEST(TouchDownClock, tips_that_land_together_are_one) {
  const TouchDown clock(landing(0));
  EXPECT_EQ(clock.tips(), 1U);
  EXPECT_DOUBLE_EQ(clock.force(0, 1e-3), 0.1);
}

TEST(TouchDownClock, behind_a_switch_the_tips_rest_at_holding_force) {
  Problem p = landing(0);
  p.pressing.closing = Closing::switched;
  const TouchDown clock(p);
  EXPECT_EQ(clock.tips(), 1U);
  EXPECT_EQ(clock.force(0, 0), 10);
  EXPECT_TRUE(clock.all_touch(0));
  EXPECT_TRUE(clock.event_times().empty());
  EXPECT_TRUE(std::isinf(clock.longest_step(0)));
  EXPECT_EQ(clock.bounces(0, 1), 0);
}

// Every change of touch of either tip is an event, and nothing changes between two events.
TEST(TouchDownClock, events_are_where_tips_land_and_leave) {
  const TouchDown clock(landing(1e-4, 0.02));
  const std::vector<double> events = clock.event_times();
  ASSERT_GE(events.size(), 4U);
  EXPECT_TRUE(std::is_sorted(events.begin(), events.end()));
  EXPECT_GT(events.front(), 0);
  std::size_t next = 0;
  int changes = 0;
  const double dt = 0.97e-6;  // on no event
  for (double t = dt; t < events.back() + 0.001; t += dt) {
    bool event = false;
    for (; next < events.size() && events[next] <= t; ++next) event = true;
    for (std::size_t tip = 0; tip < 2; ++tip) {
      if (clock.touching(tip, t) == clock.touching(tip, t - dt)) continue;
      ++changes;
      EXPECT_TRUE(event) << tip << " " << t;
    }
  }
  EXPECT_GE(changes, 3);
  for (const double t : events)
    EXPECT_EQ(clock.all_touch(t), clock.touching(0, t) && clock.touching(1, t));
  // A tip that comes down again touches from the event on.
  const Landing alone({10, 2000, 0.05, 0.02, 0.5, 2e-4, 1e-6});
  EXPECT_TRUE(clock.touching(0, alone.touches()[1].begin));
  EXPECT_FALSE(clock.touching(0, alone.touches()[0].end));
  EXPECT_EQ(clock.bounces(0, 1), alone.bounces());
  EXPECT_EQ(clock.bounces(1, 1), alone.bounces());
  EXPECT_EQ(clock.bounces(0, 1e-4), 0);
}

TEST(TouchDownClock, steps_follow_an_impact) {
  const TouchDown clock(landing(0, 0.02));
  EXPECT_LT(clock.longest_step(0), 2e-4 / 10);
  EXPECT_LT(clock.longest_step(1e-4), 2e-4 / 10);
  EXPECT_TRUE(std::isinf(clock.longest_step(1)));
}

}  // namespace
}  // namespace tabmelt
