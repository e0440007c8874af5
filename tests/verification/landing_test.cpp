// Two spots in one loop, and tips that bounce: what must hold exactly, whatever the metals do.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "io/case/read_case.h"
#include "solver/coupling/pulse_step.h"
#include "solver/solve.h"
#include "tests/support/near.h"
#include "tests/verification/weld_problem.h"

namespace tabmelt {
namespace {

// A bank touched down by hand, on a coarse grid and for 3 ms.
Problem touched_down() {
  Problem p = read_case(TABMELT_SOURCE_DIR "/cases/mower-unswitched/case.toml").problem;
  p.pressing.height_difference = 0;
  p.numerics.resolution = 0.5;
  p.numerics.step_tolerance = 1e-2;
  p.numerics.end_time = 3e-3;
  return p;
}

Problem heavy_tips(double restitution = 0.5) {
  Problem p = touched_down();
  p.pressing.approach_speed = 0.1;
  p.pressing.tip_stiffness = 8e3;
  p.pressing.moving_mass = 5e-3;
  p.pressing.restitution = restitution;
  p.pressing.impact_time = 1e-4;
  p.numerics.end_time = 6e-3;
  return p;
}

double sinks_of_the_spots(const Ledger& l) {
  return l.contacts[0] + l.contacts[1] + l.electrodes + l.sheets[0] + l.sheets[1] + l.expelled;
}

void expect_closed_books(const Result& r) {
  EXPECT_EQ(r.ending, Ending::finished) << r.ending_reason;
  EXPECT_LE(std::abs(r.ledger.residual), 1e-12 * r.ledger.from_source);
  // Doubles cannot tell heats apart that differ by less: see energy_books.cpp.
  for (const StepRecord& s : r.history)
    ASSERT_LE(std::abs(s.energy_residual), 1e-9 * s.energy_in + 2e-14);
  double delivered = 0;
  for (const TipLanding& tip : r.landings) delivered += tip.energy;
  if (r.landings.size() == 2)
    EXPECT_NEAR_RELATIVE(delivered, sinks_of_the_spots(r.ledger), 1e-12);
  else
    EXPECT_NEAR_RELATIVE(2 * delivered, sinks_of_the_spots(r.ledger), 1e-12);
}

// What constant contacts make of the current does not depend on the force: two spots in series are
// one spot counted twice, to the last bit.
TEST(Landing, spots_with_constant_contacts_do_not_care_who_lands_first) {
  Problem p = touched_down();
  for (Contact* c : {&p.under_tip(), &p.joint(0)}) {
    c->fixed = {.area_resistance = 2e-10, .area_conductance = 1e6};
  }
  const Result alike = solve(p);
  p.pressing.height_difference = 1e-4;
  const Result apart = solve(p);
  ASSERT_EQ(alike.landings.size(), 1U);
  ASSERT_EQ(apart.landings.size(), 2U);
  ASSERT_EQ(alike.history.size(), apart.history.size());
  for (std::size_t n = 0; n < alike.history.size(); ++n) {
    const StepRecord &a = alike.history[n], &b = apart.history[n];
    ASSERT_EQ(a.current, b.current);
    ASSERT_EQ(a.load_resistance, b.load_resistance);
    ASSERT_EQ(a.joints[0].temperature, b.joints[0].temperature);
    ASSERT_EQ(2 * b.spots[1].resistance, b.load_resistance);
    ASSERT_GE(b.spots[1].force, b.spots[0].force);
  }
  EXPECT_NEAR_RELATIVE(alike.ledger.sheets[0], apart.ledger.sheets[0], 1e-12);
  expect_closed_books(alike);
  expect_closed_books(apart);
}

// A difference too small to matter: softening, bursting contacts too are alike.
TEST(Landing, tips_less_than_a_nanometre_apart_land_together) {
  Problem p = touched_down();
  const Result alike = solve(p);
  p.pressing.height_difference = 1e-12;
  const Result apart = solve(p);
  ASSERT_EQ(apart.landings.size(), 2U);
  EXPECT_GT(alike.ledger.expelled, 0);
  EXPECT_NEAR_RELATIVE(alike.ledger.expelled, apart.ledger.expelled, 1e-5);
  EXPECT_NEAR_RELATIVE(alike.peak_current.value, apart.peak_current.value, 1e-6);
  EXPECT_NEAR(alike.joints[0].peak.value, apart.joints[0].peak.value, 1e-3);
}

// Looking at the other tip swaps what is shown and changes nothing that happens.
TEST(Landing, judging_the_other_tip_swaps_the_two_spots) {
  Problem p = touched_down();
  p.pressing.height_difference = 1e-4;
  const Result second = solve(p);
  p.pressing.judged = JudgedTip::lands_first;
  const Result first = solve(p);
  ASSERT_EQ(first.history.size(), second.history.size());
  for (std::size_t n = 0; n < first.history.size(); ++n) {
    const StepRecord &a = first.history[n], &b = second.history[n];
    ASSERT_EQ(a.current, b.current);
    ASSERT_EQ(a.spots[0].force, b.spots[1].force);
    ASSERT_EQ(a.spots[1].force, b.spots[0].force);
    ASSERT_EQ(a.spots[0].contacts[0].voltage, b.spots[1].contacts[0].voltage);
    ASSERT_EQ(a.spots[0].contacts[0].resistance, b.spots[1].contacts[0].resistance);
    ASSERT_EQ(a.spots[0].contacts[0].true_area, b.spots[1].contacts[0].true_area);
  }
  for (const auto& [a, b] : {std::pair{0U, 1U}, std::pair{1U, 0U}}) {
    EXPECT_EQ(first.landings[a].energy, second.landings[b].energy);
    EXPECT_EQ(first.landings[a].hottest, second.landings[b].hottest);
    EXPECT_EQ(first.landings[a].force_at_start, second.landings[b].force_at_start);
  }
  expect_closed_books(first);
  expect_closed_books(second);
  // k (difference): the first presses already, the second only touches and throws the sparks.
  EXPECT_NEAR(second.landings[1].force_at_start, p.pressing.tip_stiffness * 1e-4, 1e-12);
  EXPECT_EQ(second.landings[0].force_at_start, 0);
  EXPECT_GT(second.landings[0].expelled, second.landings[1].expelled);
}

// The further apart, the firmer the first tip and the less it resists.
TEST(Landing, a_later_second_tip_leaves_the_first_one_more_time_to_settle) {
  double resistance = 1, sparks = 1e9;
  for (const double difference : {0.0, 2e-5, 1e-4, 5e-4}) {
    Problem p = touched_down();
    p.pressing.height_difference = difference;
    p.pressing.judged = JudgedTip::lands_first;
    const Result r = solve(p);
    // At one moment, since it falls fast and first steps differ in length.
    const double early = at_time(
        r.history, 2e-6, [](const StepRecord& s) { return s.spots[0].contacts[0].resistance; });
    EXPECT_LT(early, resistance) << difference;
    EXPECT_LE(r.landings[0].expelled, sparks) << difference;
    resistance = early;
    sparks = r.landings[0].expelled;
  }
}

// Steps land on take-off and landing; in between nothing flows, and what the inductance held goes
// into the gap.
TEST(Landing, a_bouncing_tip_opens_the_loop) {
  const Problem p = heavy_tips();
  const Result r = solve(p);
  expect_closed_books(r);
  ASSERT_GE(r.landings[0].bounces, 1);
  EXPECT_EQ(r.interruptions, r.landings[0].bounces);
  const TouchDown clock(p);
  const double inductance = circuit::Loop(p.circuit).elements().inductance;
  double dumped = 0, began = 0;
  const StepRecord* before = nullptr;
  for (const StepRecord& s : r.history) {
    const double middle = 0.5 * (began + s.time);
    ASSERT_EQ(clock.touching(0, began + 1e-9), clock.touching(0, s.time - 1e-9)) << s.time;
    const bool touches = clock.touching(0, middle);
    if (!touches) {
      ASSERT_EQ(s.current, 0) << s.time;
      ASSERT_EQ(s.spots[0].force, 0) << s.time;
      ASSERT_EQ(s.spots[0].contacts[0].true_area, 0) << s.time;
      dumped += 0.5 * inductance * before->current * before->current;
    } else {
      ASSERT_GT(s.spots[0].contacts[0].true_area, 0) << s.time;
    }
    before = &s;
    began = s.time;
  }
  EXPECT_GT(dumped, 0);
  EXPECT_NEAR_RELATIVE(r.ledger.tip_lift, dumped, 1e-12);
}

// Plastic: the true area is the largest force so far over the hardness, current or not.
TEST(Landing, a_tip_that_waits_for_the_other_one_remembers_its_impact) {
  Problem p = heavy_tips();
  p.pressing.height_difference = 1e-4;
  const TouchDown clock(p);
  // The second tip strikes while the first one flies.
  ASSERT_FALSE(clock.touching(1, 0));
  const double leaves = clock.event_times().front();
  ASSERT_TRUE(clock.touching(0, 0.99 * leaves));
  p.numerics.end_time = leaves;
  const Result r = solve(p);
  double began = 0, first = 0;
  for (const StepRecord& s : r.history) {
    ASSERT_EQ(s.current, 0);
    const double ratio =
        s.spots[0].contacts[0].true_area / clock.firmest(0, 0.5 * (began + s.time));
    if (first == 0) first = ratio;
    EXPECT_NEAR(ratio / first, 1, 0.01) << s.time;
    began = s.time;
  }
  EXPECT_GT(r.history.size(), 10U);
}

TEST(Landing, a_tip_that_does_not_rebound_presses_by_its_impact) {
  const Result light = solve(touched_down());
  Problem p = heavy_tips(0);
  p.pressing.approach_speed = touched_down().pressing.approach_speed;
  p.pressing.tip_stiffness = touched_down().pressing.tip_stiffness;
  p.pressing.moving_mass = 0.015;
  p.pressing.impact_time = 2.5e-4;
  p.numerics.end_time = 3e-3;
  const Result heavy = solve(p);
  expect_closed_books(heavy);
  EXPECT_EQ(heavy.interruptions, 0);
  EXPECT_EQ(heavy.ledger.tip_lift, 0);
  EXPECT_LT(heavy.ledger.expelled, 0.8 * light.ledger.expelled);
}

// Every way to land, with a pulse train of a switch besides: the books close and nothing lingers.
TEST(Landing, books_close_however_the_tips_come_down) {
  int bounced = 0, sparked = 0;
  for (const double difference : {0.0, 1e-4}) {
    for (const double restitution : {0.0, 0.4, 0.8}) {
      for (const bool domed : {false, true}) {
        SCOPED_TRACE(std::to_string(difference) + " " + std::to_string(restitution));
        Problem p = heavy_tips(restitution);
        p.pressing.height_difference = difference;
        p.electrode.face_radius = domed ? 7.5e-3 : INFINITY;
        if (domed) p.circuit.power_switch.train = {{5e-4, 3e-4}, {1e-3, 2e-3}, {5e-3, 0}};
        ASSERT_TRUE(complaints(p).empty()) << complaints(p).front();
        const Result r = solve(p);
        expect_closed_books(r);
        bounced += r.interruptions > 0;
        sparked += r.ledger.expelled > 0;
      }
    }
  }
  EXPECT_GE(bounced, 4);
  EXPECT_GE(sparked, 4);
}

// Parting forgets what touched and keeps what is broken or grown together.
TEST(Landing, contacts_that_part_touch_anew_at_the_next_landing) {
  const Problem p = touched_down();
  const WeldModel model = build_model(p);
  const circuit::Loop loop(p.circuit);
  PulseStep pulse(p, model, loop);
  WeldState state = pulse.initial_state();
  for (auto& plane : state.spots[0].contact.memory)
    for (ContactMemory& memory : plane) memory = {0.3, 0.2, 0.1};
  state.spots[0].contact.indentation = 1e-4;
  state.last_step = 1e-5;
  PulseStep::lift(state, 0);
  const auto& memory = state.spots[0].contact.memory;
  EXPECT_EQ(memory[0][0].true_fraction, 0);
  EXPECT_EQ(memory[1][0].true_fraction, 0);
  EXPECT_EQ(memory[0][0].film_left, 0.2);
  EXPECT_EQ(memory[1][0].film_left, 0.2);
  EXPECT_EQ(memory[0][0].merged, 0);
  EXPECT_EQ(memory[1][0].merged, 0.1);
  EXPECT_EQ(state.spots[0].contact.indentation, 0);
  EXPECT_EQ(state.last_step, 0);
}

}  // namespace
}  // namespace tabmelt
