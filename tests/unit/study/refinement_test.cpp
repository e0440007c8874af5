// Richardson's extrapolation on sequences whose limit and order are known by construction.
#include "solver/study/refinement.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

namespace tabmelt {
namespace {

using Three = std::array<double, 3>;

Three sequence(const Three& h, double limit, double c, double p) {
  Three f{};
  for (std::size_t n = 0; n < 3; ++n) f[n] = limit + c * std::pow(h[n], p);
  return f;
}

const Three geometric{0.1, 0.1 / 1.5, 0.1 / 2.25};
const Three uneven{1 / std::sqrt(357.0), 1 / std::sqrt(832.0), 1 / std::sqrt(1872.0)};

TEST(Extrapolation, finds_limit_and_order_of_exact_sequences) {
  for (const Three& h : {geometric, uneven}) {
    for (const double p : {1.0, 4.0 / 3, 1.5, 1.9, 2.0}) {
      for (const double c : {-7.0, 0.3}) {
        const Three f = sequence(h, 12.5, c, p);
        const Extrapolation e = extrapolated(h, f);
        const double error = c * std::pow(h[0], p);
        EXPECT_EQ(e.convergence, Convergence::orderly) << p;
        EXPECT_NEAR(e.order, p, 1e-6);
        EXPECT_NEAR(e.value, 12.5, 1e-6 * std::abs(error));
        EXPECT_NEAR(e.error, error, 1e-6 * std::abs(error));
        EXPECT_NEAR(e.band, 1.25 * std::abs(error), 2e-6 * std::abs(error));
      }
    }
  }
}

// With h falling by 1.5 and p = 1, F = f3 - 2 (f2 - f3): 10, 7, 5 go to 1.
TEST(Extrapolation, agrees_with_a_sum_done_by_hand) {
  const Extrapolation e = extrapolated({2.25, 1.5, 1}, {10, 7, 5});
  EXPECT_NEAR(e.order, 1, 1e-6);
  EXPECT_NEAR(e.value, 1, 1e-5);
  EXPECT_NEAR(e.error, 9, 1e-5);
}

TEST(Extrapolation, limits_a_high_order_and_widens_the_band) {
  const Three f = sequence(geometric, 3, 5, 4);
  const Extrapolation e = extrapolated(geometric, f);
  EXPECT_EQ(e.convergence, Convergence::faster);
  EXPECT_DOUBLE_EQ(e.order, 2);
  EXPECT_NEAR(e.value, f[2] - (f[1] - f[2]) / (1.5 * 1.5 - 1), 1e-12);
  EXPECT_GE(e.band, 3 * (f[0] - f[2]));
  EXPECT_GE(e.band, std::abs(f[0] - 3));  // the true error lies inside
}

TEST(Extrapolation, limits_a_low_order_and_widens_the_band) {
  const Three f = sequence(geometric, 3, 5, 0.5);
  const Extrapolation e = extrapolated(geometric, f);
  EXPECT_EQ(e.convergence, Convergence::slower);
  EXPECT_DOUBLE_EQ(e.order, 1);
  EXPECT_NEAR(e.value, f[2] - (f[1] - f[2]) / 0.5, 1e-12);
  EXPECT_GE(e.band, std::abs(f[0] - 3));
}

TEST(Extrapolation, growing_changes_are_not_taken_for_convergence) {
  EXPECT_EQ(extrapolated(geometric, {1, 2, 4}).convergence, Convergence::slower);
  EXPECT_EQ(extrapolated(geometric, {1, 1, 2}).convergence, Convergence::slower);
}

TEST(Extrapolation, oscillation_is_named_and_covered) {
  const Extrapolation e = extrapolated(geometric, {1.0, 1.2, 0.9});
  EXPECT_EQ(e.convergence, Convergence::oscillating);
  EXPECT_GE(e.band, 3 * 0.3 - 1e-12);
}

TEST(Extrapolation, equal_values_have_no_error) {
  for (const double value : {0.0, 1173.15}) {
    const Extrapolation e = extrapolated(geometric, {value, value, value});
    EXPECT_EQ(e.convergence, Convergence::settled);
    EXPECT_DOUBLE_EQ(e.value, value);
    EXPECT_DOUBLE_EQ(e.error, 0);
    EXPECT_DOUBLE_EQ(e.band, 0);
  }
}

TEST(Extrapolation, last_two_equal_is_faster_not_a_division_by_zero) {
  const Extrapolation e = extrapolated(geometric, {2, 1, 1});
  EXPECT_EQ(e.convergence, Convergence::faster);
  EXPECT_DOUBLE_EQ(e.value, 1);
  EXPECT_DOUBLE_EQ(e.error, 1);
}

TEST(Extrapolation, refuses_what_is_no_refinement) {
  EXPECT_THROW(extrapolated({1, 1, 0.5}, {1, 2, 3}), std::invalid_argument);
  EXPECT_THROW(extrapolated({1, 2, 3}, {1, 2, 3}), std::invalid_argument);
  EXPECT_THROW(extrapolated({1, 0.5, 0}, {1, 2, 3}), std::invalid_argument);
  const double nothing = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(extrapolated(geometric, {1, nothing, 3}), std::invalid_argument);
}

TEST(RefinedProblem, tightens_grid_steps_and_tolerances) {
  Problem problem;
  problem.numerics.end_time = 0.005;
  const Numerics& own = problem.numerics;
  const Numerics finer = refined(problem, 1.5).numerics;
  EXPECT_DOUBLE_EQ(finer.resolution, 1.5 * own.resolution);
  EXPECT_DOUBLE_EQ(finer.step_tolerance, own.step_tolerance / 2.25);
  EXPECT_DOUBLE_EQ(finer.coupling_tolerance, own.coupling_tolerance / 2.25);
  EXPECT_DOUBLE_EQ(finer.newton_tolerance, own.newton_tolerance / 2.25);
  EXPECT_DOUBLE_EQ(finer.first_step, own.first_step / 1.5);
  EXPECT_DOUBLE_EQ(finer.longest_step, own.longest_step / 1.5);
  EXPECT_EQ(finer.end_time, own.end_time);
  EXPECT_THROW(refined(problem, 0), std::invalid_argument);
}

TEST(JudgedFigures, take_the_deepest_layer_that_has_a_limit) {
  Problem problem;
  problem.boundary.ambient = 300;
  problem.inner.resize(3);
  Result result;
  result.joints.resize(1);
  result.inner_wall_and_layers.resize(4);
  for (std::size_t n = 0; n < 4; ++n) {
    result.inner_wall_and_layers[n].name = "L" + std::to_string(n);
    result.inner_wall_and_layers[n].peak.value = 500 - 10.0 * static_cast<double>(n);
  }
  result.inner_wall_and_layers[1].limit = 400;
  result.inner_wall_and_layers[2].molten_limit = 0.5;
  const std::vector<Figure> figures = judged_figures(problem, result);
  ASSERT_EQ(figures.size(), 6u);
  EXPECT_EQ(figures[4].name, "hottest of L2");
  EXPECT_DOUBLE_EQ(figures[4].value, 480);
  EXPECT_DOUBLE_EQ(figures[4].origin, 300);

  problem.inner.clear();
  EXPECT_EQ(judged_figures(problem, result).size(), 5u);
}

TEST(JudgedFigures, cells_shrink_with_the_root_of_their_number) {
  Result coarse, fine;
  coarse.grid = mesh::AxisymmetricGrid({0, 1, 2}, {0, 1, 2}, {{"all", 1, 0, 2, 2, 2}});
  fine.grid =
      mesh::AxisymmetricGrid({0, 0.5, 1, 1.5, 2}, {0, 0.5, 1, 1.5, 2}, {{"all", 1, 0, 2, 2, 2}});
  EXPECT_DOUBLE_EQ(relative_cell_size(coarse) / relative_cell_size(fine), 2);
}

}  // namespace
}  // namespace tabmelt
