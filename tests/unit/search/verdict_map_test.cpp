// Regions with known shapes: the refined map against the full grid and against the exact area.
#include "solver/search/verdict_map.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numbers>
#include <stdexcept>

#include "tests/unit/search/analytic.h"

namespace tabmelt::study {
namespace {

Margins circle(const Point& p) { return {{"outside", 0.3 - std::hypot(p[0] - 0.5, p[1] - 0.45)}}; }

// A lobe as spot welds have one: too cold below a falling curve, expulsion above another, a tip
// that sticks at the right.
Margins lobe(const Point& p) {
  const double heat = (0.5 + p[0]) * (0.5 + p[0]) * (0.4 + p[1]);
  return {
      {"no_bond", heat - 0.5}, {"expulsion", 1.3 - heat}, {"sticking", 0.8 - p[1] * p[0] * 1.4}};
}

double share_good(const VerdictMap& map) {
  // Corners on the frame stand for half a square, those in its corners for a quarter.
  double good = 0, all = 0;
  for (int j = 0; j <= map.cells; ++j)
    for (int i = 0; i <= map.cells; ++i) {
      const double weight = (i % map.cells == 0 ? 0.5 : 1) * (j % map.cells == 0 ? 0.5 : 1);
      all += weight;
      good += map.at(i, j).good ? weight : 0;
    }
  return good / all;
}

VerdictMap full_map(const Evaluate& evaluate) { return verdict_map(evaluate, {64, 64}); }

// Of the corners of two maps of one size.
bool all_say_the_same(const VerdictMap& a, const VerdictMap& b) {
  return std::equal(a.corners.begin(), a.corners.end(), b.corners.begin(), b.corners.end(),
                    [](const auto& x, const auto& y) { return x.region == y.region; });
}

TEST(VerdictMap, of_a_circle_is_that_of_the_full_grid_and_has_its_area) {
  const VerdictMap map = verdict_map(judged_by(circle), {});
  const VerdictMap full = full_map(judged_by(circle));
  EXPECT_TRUE(all_say_the_same(map, full));
  EXPECT_NEAR(share_good(map), std::numbers::pi * 0.09, 0.003);
  EXPECT_LT(static_cast<double>(map.runs), 0.1 * static_cast<double>(full.runs));
  EXPECT_EQ(full.runs, 65u * 65u);
  EXPECT_TRUE(map.complete);
}

TEST(VerdictMap, of_a_lobe_needs_at_most_fifteen_per_cent_of_the_full_grid) {
  const VerdictMap map = verdict_map(judged_by(lobe), {});
  const VerdictMap full = full_map(judged_by(lobe));
  EXPECT_TRUE(all_say_the_same(map, full));
  EXPECT_LE(static_cast<double>(map.runs), 0.15 * static_cast<double>(full.runs));
}

// Twice the squares along each side: the boundaries grow twice as long, the area four times.
TEST(VerdictMap, cost_grows_with_the_boundary_and_not_with_the_area) {
  std::vector<double> runs;
  for (const int cells : {64, 128, 256})
    runs.push_back(static_cast<double>(verdict_map(judged_by(circle), {cells, 8}).runs));
  const double growth = (runs[2] - runs[1]) / (runs[1] - runs[0]);
  EXPECT_GT(growth, 1.7);
  EXPECT_LT(growth, 2.3);
}

TEST(VerdictMap, every_corner_gets_numbers_near_the_exact_ones) {
  const VerdictMap map = verdict_map(judged_by(lobe), {});
  for (int j = 0; j <= map.cells; ++j)
    for (int i = 0; i <= map.cells; ++i) {
      ASSERT_EQ(map.at(i, j).numbers.size(), 2u);
      // The numbers are x and y themselves, which bilinear interpolation gives exactly.
      EXPECT_NEAR(map.at(i, j).numbers[0], i / 64.0, 1e-12);
      EXPECT_NEAR(map.at(i, j).numbers[1], j / 64.0, 1e-12);
    }
}

TEST(VerdictMap, finer_asks_again_for_the_points_of_the_coarser) {
  std::vector<Point> coarse, fine;
  const auto noting = [](std::vector<Point>& into) {
    return [&into](const std::vector<Point>& points) {
      into.insert(into.end(), points.begin(), points.end());
      return judged_by(circle)(points);
    };
  };
  verdict_map(noting(coarse), {32, 8});
  verdict_map(noting(fine), {64, 8});
  for (const Point& point : coarse)
    EXPECT_NE(std::find(fine.begin(), fine.end(), point), fine.end());
}

TEST(VerdictMap, keeps_what_is_known_when_it_is_stopped) {
  const VerdictMap map = verdict_map(stopping_after(judged_by(circle), 160), {});
  EXPECT_FALSE(map.complete);
  EXPECT_EQ(map.runs, 160u);
  for (const MapCorner& corner : map.corners) EXPECT_FALSE(corner.region.empty());
}

TEST(VerdictMap, a_run_that_fails_is_a_region_of_its_own) {
  const VerdictMap map = verdict_map(
      [](const std::vector<Point>& points) {
        std::vector<Judged> runs = judged_by(circle)(points);
        for (std::size_t n = 0; n < runs.size(); ++n)
          if (points[n][0] > 0.7) runs[n] = {State::failed, "too stiff"};
        return runs;
      },
      {16, 8});
  EXPECT_EQ(map.at(16, 8).region, "not_computed");
  EXPECT_EQ(map.at(8, 8).region, "fused");
}

TEST(VerdictMap, refuses_sizes_that_are_no_powers_of_two) {
  EXPECT_THROW(verdict_map(judged_by(circle), {60, 8}), std::invalid_argument);
  EXPECT_THROW(verdict_map(judged_by(circle), {8, 16}), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::study
