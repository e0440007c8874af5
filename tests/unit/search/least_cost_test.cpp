// Cheapest points known in closed form.
#include "solver/search/least_cost.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tabmelt::study {
namespace {

// x + y is least on x y = 2 at x = y = sqrt 2.
std::optional<Trial> hyperbola(const Point& p) {
  return Trial{p[0] + p[1], std::max(0.0, 2 - p[0] * p[1])};
}

TEST(LeastCost, follows_the_edge_of_what_is_good_enough) {
  const LeastCost least = least_cost(hyperbola, {{0.5, 4}, {0.5, 4}}, 150);
  ASSERT_TRUE(least.found);
  EXPECT_NEAR(least.trial.cost, 2 * std::sqrt(2.0), 0.01);
  EXPECT_EQ(least.trial.shortfall, 0);
  EXPECT_GE(least.best[0] * least.best[1], 2);
  EXPECT_LE(least.trials, 150u);
  EXPECT_TRUE(least.complete);
}

// 3 n + y with n y >= 6.2, n whole, y <= 6: n = 2, y = 3.1 costs 9.1; n = 3 costs 11.1, n = 1 is
// not enough.
TEST(LeastCost, mixes_whole_and_real_numbers) {
  const LeastCost least = least_cost(
      [](const Point& p) {
        EXPECT_EQ(p[0], std::round(p[0]));
        return Trial{3 * p[0] + p[1], std::max(0.0, 6.2 - p[0] * p[1])};
      },
      {{1, 10, true}, {0.1, 6}}, 200);
  ASSERT_TRUE(least.found);
  EXPECT_EQ(least.best[0], 2);
  EXPECT_NEAR(least.trial.cost, 9.1, 0.05);
}

TEST(LeastCost, says_none_and_what_lacks_least) {
  const LeastCost least = least_cost(
      [](const Point& p) {
        return Trial{p[0], std::max(0.0, 30 - p[0] * p[1])};
      },
      {{0.5, 4}, {0.5, 4}}, 150);
  EXPECT_FALSE(least.found);
  EXPECT_NEAR(least.trial.shortfall, 14, 0.5);  // at the corner 4, 4
}

// Small steps in what is good enough, as a chance from few draws has them, do not mislead it.
TEST(LeastCost, copes_with_a_ragged_edge) {
  const LeastCost least = least_cost(
      [](const Point& p) {
        const double ragged = p[0] * p[1] + 0.02 * std::sin(60 * p[0]) * std::sin(47 * p[1]);
        return Trial{p[0] + p[1], std::max(0.0, 2 - ragged)};
      },
      {{0.5, 4}, {0.5, 4}}, 150);
  ASSERT_TRUE(least.found);
  EXPECT_NEAR(least.trial.cost, 2 * std::sqrt(2.0), 0.06);
}

TEST(LeastCost, keeps_the_best_when_it_is_stopped_and_makes_no_trial_twice) {
  std::size_t made = 0;
  const LeastCost least = least_cost(
      [&](const Point& p) -> std::optional<Trial> {
        if (made == 20) return std::nullopt;
        ++made;
        return hyperbola(p);
      },
      {{0.5, 4}, {0.5, 4}}, 150);
  EXPECT_FALSE(least.complete);
  EXPECT_EQ(least.trials, 20u);
  EXPECT_TRUE(least.found);
  std::vector<Point> all;
  least_cost(
      [&](const Point& p) {
        EXPECT_EQ(std::find(all.begin(), all.end(), p), all.end());
        all.push_back(p);
        return hyperbola(p);
      },
      {{1, 4, true}, {1, 4, true}}, 100);
  EXPECT_LE(all.size(), 16u);
}

TEST(LeastCost, refuses_empty_ranges) {
  EXPECT_THROW(least_cost(hyperbola, {}, 10), std::invalid_argument);
  EXPECT_THROW(least_cost(hyperbola, {{1, 1}, {0, 1}}, 10), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::study
