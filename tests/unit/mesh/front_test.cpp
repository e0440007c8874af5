// Fronts on graded columns whose place is known.
// Catches: a front that moves in steps from column to column, a spot that opens with a jump, a hole
// mistaken for a spot.
#include "mesh/front.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace tabmelt::mesh {
namespace {

using std::numbers::pi;

// n columns out to 1, each 8 % wider than the one before at n = 10.
AxisymmetricGrid graded(int n) {
  const double growth = std::pow(1.08, 10.0 / n);
  std::vector<double> r{0};
  double width = 1;
  for (int i = 0; i < n; ++i, width *= growth) r.push_back(r.back() + width);
  for (double& e : r) e /= r.back();
  return {r, {0, 1}, {{"all", 1, 0, 1, 1, 1}}};
}

template <typename F>
std::vector<double> at_columns(const AxisymmetricGrid& grid, F f) {
  std::vector<double> v;
  for (std::size_t i = 0; i < grid.nr(); ++i) v.push_back(f(grid.r_centre(i)));
  return v;
}

TEST(Front, parabola_is_exact_from_the_axis_to_the_limit) {
  const AxisymmetricGrid grid = graded(10);
  for (double R = 0.001; R < 1.2; R += 0.0137) {
    const PositiveRings spot =
        positive_rings(grid, at_columns(grid, [&](double r) { return R * R - r * r; }), 1);
    const double outer = std::min(R, 1.0);
    EXPECT_NEAR(spot.outer, outer, 1e-12);
    EXPECT_NEAR(spot.area, pi * outer * outer, 1e-12);
    EXPECT_EQ(spot.hole, 0);
    const PositiveRings ring =
        positive_rings(grid, at_columns(grid, [&](double r) { return r * r - R * R; }), 1);
    EXPECT_NEAR(ring.area, pi * (1 - outer * outer), 1e-12);
    EXPECT_NEAR(ring.hole, R < 1 ? R : 0, 1e-12);
  }
  EXPECT_EQ(positive_rings(grid, at_columns(grid, [](double) { return -1; }), 1).outer, 0);
  EXPECT_EQ(positive_rings(grid, {}, 1).area, 0);
  EXPECT_NEAR(positive_rings(grid, {1}, 0.5).area, pi * 0.25, 1e-15);
}

// cos(k r) - cos(k R), a ring between two fronts; the worst place of the front decides.
TEST(Front, any_smooth_field_is_second_order) {
  double last = 0;
  for (const int n : {8, 16, 32, 64}) {
    const AxisymmetricGrid grid = graded(n);
    double worst = 0;
    for (double R = 0.3; R < 0.7; R += 0.003) {
      const auto field = [&](double r) { return std::cos(3 * r) - std::cos(3 * R); };
      worst = std::max(worst, std::abs(positive_rings(grid, at_columns(grid, field), 1).outer - R));
    }
    if (last > 0) {
      EXPECT_NEAR(std::log2(last / worst), 2, 0.2) << n;
    }
    last = worst;
  }
  EXPECT_LT(last, 1.0 / (64 * 64));
}

// A front that moves evenly is seen to move evenly: its speed never strays by more than the grid's
// width, not even where the spot opens.
TEST(Front, moves_without_steps) {
  const AxisymmetricGrid grid = graded(16);
  double area = 0;
  for (double t = 0; t < 0.6; t += 1e-3) {
    const auto field = [&](double r) { return t - 1 + std::cos(1.2 * r); };
    const double now = positive_rings(grid, at_columns(grid, field), 1).area;
    EXPECT_GE(now, area);
    if (t > 0) {
      EXPECT_NEAR((now - area) / 1e-3, 2 * pi / 1.44, 0.12 * 2 * pi / 1.44 + 2 * t) << t;
    }
    area = now;
  }
}

TEST(Front, rings_are_told_from_spots) {
  const AxisymmetricGrid grid = graded(80);
  const auto field = [](double r) { return (r - 0.2) * (0.5 - r) * (r - 0.7) * (r - 0.9); };
  const PositiveRings rings = positive_rings(grid, at_columns(grid, field), 1);
  EXPECT_NEAR(rings.hole, 0.2, 2e-3);
  EXPECT_NEAR(rings.outer, 0.9, 2e-3);
  EXPECT_NEAR(rings.area, pi * (0.25 - 0.04 + 0.81 - 0.49), 1e-2);
}

}  // namespace
}  // namespace tabmelt::mesh
