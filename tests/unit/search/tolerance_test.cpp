// Chances known from areas.
#include "solver/search/tolerance.h"

#include <gtest/gtest.h>

#include "tests/unit/search/analytic.h"

namespace tabmelt::study {
namespace {

// Two inputs of three count; good where x > 0.2 and y < 0.6: 0.48 of the square.
Margins corner(const Point& p) { return {{"cold", p[0] - 0.2}, {"hot", 0.6 - p[1]}}; }

const std::vector<Distribution> cube(3, Distribution::uniform(0, 1));

struct Sample {
  std::vector<std::vector<double>> points;
  std::vector<Judged> runs;
  Tolerance t;
  explicit Sample(const Evaluate& evaluate, std::size_t draws = 256)
      : t(tolerance(evaluate, cube, draws, points, runs)) {}
};

TEST(Tolerance, chance_is_the_area) {
  const Tolerance t = Sample(judged_by(corner)).t;
  EXPECT_NEAR(t.good.value, 0.48, 0.01);
  EXPECT_LT(t.good.low, 0.48);
  EXPECT_GT(t.good.high, 0.48);
  EXPECT_EQ(t.computed, 256u);
  EXPECT_TRUE(t.complete);
  for (const auto& [key, chance] : t.limits)
    EXPECT_NEAR(chance.value, key == "cold" ? 0.2 : 0.4, 0.01) << key;
  double sum = 0;
  for (const auto& [key, chance] : t.verdicts) sum += chance.value;
  EXPECT_NEAR(sum, 1, 1e-12);
  EXPECT_NEAR(t.median[0], 0.5, 0.02);
  EXPECT_NEAR(t.lowest_tenth[1], 0.1, 0.02);
}

// Knowing x to its middle half: 0.6 of all are good, y alone decides; knowing y to 0.25..0.75: 0.7
// of the middle half times 0.8.
TEST(Tolerance, knowing_one_input_better_buys_what_the_areas_say) {
  const Tolerance t = Sample(judged_by(corner), 1024).t;
  EXPECT_NEAR(t.knowing[0].middle.value, 0.6, 0.02);
  EXPECT_NEAR(t.knowing[0].below.value, 0.2 * 0.6, 0.02);
  EXPECT_NEAR(t.knowing[1].middle.value, 0.7 * 0.8, 0.02);
  EXPECT_NEAR(t.knowing[1].above.value, 0, 1e-12);
  EXPECT_NEAR(t.knowing[2].middle.value, 0.48, 0.02);
}

TEST(Tolerance, tells_for_each_limit_which_input_decides) {
  const Tolerance t = Sample(judged_by(corner)).t;
  ASSERT_EQ(t.deciding.size(), 2u);
  EXPECT_EQ(t.deciding[0].limit, "hot");  // passed more often
  EXPECT_EQ(t.deciding[1].limit, "cold");
  EXPECT_NEAR(t.deciding[0].of.first_order[1].value, 1, 0.03);
  EXPECT_NEAR(t.deciding[1].of.first_order[0].value, 1, 0.03);
  EXPECT_LT(t.deciding[0].of.first_order[1].slope, -0.9);
  EXPECT_GT(t.deciding[1].of.first_order[0].slope, 0.9);
  for (const Deciding& d : t.deciding) EXPECT_NEAR(d.of.first_order[2].value, 0, 0.03);
}

// Nothing is passed: the limit that comes nearest.
TEST(Tolerance, without_a_failure_looks_at_the_nearest_limit) {
  const Tolerance t = Sample(judged_by([](const Point& p) {
                        return Margins{{"near", p[0] + 0.1}, {"far", p[1] + 3}};
                      })).t;
  EXPECT_EQ(t.good.value, 1);
  ASSERT_EQ(t.deciding.size(), 1u);
  EXPECT_EQ(t.deciding[0].limit, "near");
}

TEST(Tolerance, what_fails_is_counted_and_widens_the_interval) {
  const auto failing = [](const std::vector<Point>& points) {
    std::vector<Judged> runs = judged_by(corner)(points);
    for (std::size_t n = 0; n < runs.size(); ++n)
      if (points[n][2] < 0.1) runs[n] = {State::failed, "too stiff"};
    return runs;
  };
  const Tolerance t = Sample(failing).t, sure = Sample(judged_by(corner)).t;
  EXPECT_NEAR(static_cast<double>(t.failed), 25.6, 1.5);
  EXPECT_EQ(t.failed + t.computed, 256u);
  EXPECT_NEAR(t.good.value, 0.48, 0.03);
  EXPECT_LT(t.good.low, sure.good.low - 0.02);
  EXPECT_GT(t.good.high, sure.good.high + 0.02);
}

TEST(Tolerance, says_what_is_known_when_it_is_stopped) {
  const Tolerance t = Sample(stopping_after(judged_by(corner), 100)).t;
  EXPECT_FALSE(t.complete);
  EXPECT_EQ(t.computed, 100u);
  EXPECT_NEAR(t.good.value, 0.48, 0.05);
  const Tolerance none = Sample(stopping_after(judged_by(corner), 0)).t;
  EXPECT_EQ(none.computed, 0u);
  EXPECT_EQ(none.good.high, 1);
}

}  // namespace
}  // namespace tabmelt::study
