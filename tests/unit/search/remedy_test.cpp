// Changes whose smallest size is known in closed form.
#include "solver/search/remedy.h"

#include <gtest/gtest.h>

#include "tests/unit/search/analytic.h"

namespace tabmelt::study {
namespace {

// Good where the heat v^2 t lies between 2 and 4 and the force is above 0.7.
Margins weld(const Point& p) {
  const double heat = p[0] * p[0] * p[1];
  return {{"no_bond", heat / 2 - 1}, {"expulsion", 1 - heat / 4}, {"sparking", p[2] / 0.7 - 1}};
}

std::vector<RemedyKnob> knobs(double v, double t, double force) {
  return {{v, v / 4, 4 * v}, {t, t / 4, 4 * t}, {force, force / 4, 4 * force}};
}

TEST(Advice, finds_the_smallest_change_of_each_knob_that_can_help) {
  const Advice a = advice(judged_by(weld), knobs(1, 1, 1), {6, 8, 4, 64});
  EXPECT_EQ(a.start.verdict, "no_bond");
  ASSERT_EQ(a.singles.size(), 2u);  // more force does not help
  // v = sqrt 2 is half a doubling, t = 2 a whole one.
  EXPECT_EQ(a.singles[0].knobs, std::vector<std::size_t>{0});
  EXPECT_NEAR(a.singles[0].size, 0.5, 0.01);
  EXPECT_GE(a.singles[0].size, 0.5);
  EXPECT_EQ(a.singles[1].knobs, std::vector<std::size_t>{1});
  EXPECT_NEAR(a.singles[1].size, 1, 0.01);
  // The good stretch of v ends at 2: aim halfway in ratio, 2^(3/4), with room both ways.
  EXPECT_NEAR(a.singles[0].aim[0], std::pow(2.0, 0.75), 0.02);
  EXPECT_GT(a.singles[0].aim_run.margin, 0.2);
  for (const Remedy& r : a.singles) EXPECT_TRUE(r.run.good && r.aim_run.good);
  EXPECT_TRUE(a.complete);
}

TEST(Advice, takes_a_pair_where_no_single_change_helps) {
  const Advice a = advice(judged_by(weld), knobs(1, 1, 0.5));
  EXPECT_TRUE(a.singles.empty());
  ASSERT_FALSE(a.pairs.empty());
  const Remedy& best = a.pairs.front();
  EXPECT_EQ(best.knobs, (std::vector<std::size_t>{0, 2}));
  EXPECT_TRUE(best.run.good);
  // At least half a doubling of v and log2(0.7/0.5) of the force.
  EXPECT_GE(best.size, 0.5 + std::log2(1.4) - 1e-9);
  EXPECT_LT(best.size, 2.5);
}

// Three things wrong at once: neither one knob nor two help.
Margins three(const Point& p) { return {{"a", p[0] - 1.5}, {"b", p[1] - 1.5}, {"c", p[2] - 1.5}}; }

TEST(Advice, looks_everywhere_when_pairs_do_not_help) {
  const Advice a = advice(judged_by(three), knobs(1, 1, 1));
  EXPECT_TRUE(a.singles.empty() && a.pairs.empty());
  ASSERT_FALSE(a.several.empty());
  EXPECT_EQ(a.several.front().knobs.size(), 3u);
  EXPECT_TRUE(a.several.front().run.good);
  EXPECT_GE(a.several.front().size, 3 * std::log2(1.5) - 1e-9);
}

TEST(Advice, puts_back_what_is_not_needed) {
  // Five knobs of which three count.
  std::vector<RemedyKnob> five = knobs(1, 1, 1);
  five.push_back({2, 1, 4});
  five.push_back({2, 1, 4});
  const Advice a = advice(judged_by(three), five);
  ASSERT_FALSE(a.several.empty());
  for (const Remedy& r : a.several) EXPECT_EQ(r.knobs, (std::vector<std::size_t>{0, 1, 2}));
}

// Bond needs more than 2, safety less than 1.5 of the same heat: nothing in between.
Margins excluding(const Point& p) {
  return {{"no_bond", p[0] / 2 - 1}, {"can_puncture", 1 - p[0] / 1.5}};
}

TEST(Advice, names_the_two_limits_that_exclude_each_other) {
  const Advice a = advice(judged_by(excluding), {{1, 0.25, 8}}, {12, 4, 4, 200});
  EXPECT_FALSE(a.helps());
  EXPECT_EQ(a.dense, 200u);
  ASSERT_TRUE(a.exclusion);
  const bool puncture_first = a.exclusion->first == "can_puncture";
  EXPECT_EQ(a.exclusion->second, puncture_first ? "no_bond" : "can_puncture");
  // Bond kept at 2 costs 1 - 2/1.5 = -1/3; the wall kept at 1.5 costs 0.75 - 1 = -1/4.
  const double bond = puncture_first ? *a.exclusion->best_second : *a.exclusion->best_first;
  const double wall = puncture_first ? *a.exclusion->best_first : *a.exclusion->best_second;
  EXPECT_NEAR(bond, -0.25, 0.02);
  EXPECT_NEAR(wall, -1.0 / 3, 0.03);
}

TEST(Advice, switches_and_whole_numbers) {
  const auto margins = [](const Point& p) {
    return Margins{{"current", p[0] * (p[1] > 0.5 ? 1.6 : 1) - 7.5}};
  };
  const Advice a = advice(judged_by(margins), {{5, 1, 20, true}, {0, 0, 1, false, true, 0.5}});
  ASSERT_EQ(a.singles.size(), 2u);
  EXPECT_EQ(a.singles[0].least, (Point{5, 1}));
  EXPECT_EQ(a.singles[0].size, 0.5);
  EXPECT_EQ(a.singles[1].least, (Point{8, 0}));
}

TEST(Advice, of_a_good_start_tries_nothing) {
  const Advice a = advice(judged_by(weld), knobs(1, 3, 1));
  EXPECT_TRUE(a.start.good);
  EXPECT_EQ(a.tried, 1u);
}

TEST(Advice, keeps_what_is_known_when_it_is_stopped) {
  const Advice a = advice(stopping_after(judged_by(weld), 30), knobs(1, 1, 1));
  EXPECT_FALSE(a.complete);
  EXPECT_FALSE(a.best.empty());
}

}  // namespace
}  // namespace tabmelt::study
