// Fits with answers in closed form.
#include "solver/inference/least_squares.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "solver/inference/goodness.h"

namespace tabmelt::inference {
namespace {

// A straight line a + b t through points of deviation s: the textbook's normal equations.
const std::vector<double> times{0, 1, 2, 3, 4, 5};
const std::vector<double> values{1.1, 2.9, 5.2, 7.1, 8.8, 11.1};
constexpr double s = 0.2;

std::optional<Linearised> line(const std::vector<double>& x, bool slopes) {
  Linearised all;
  for (std::size_t k = 0; k < times.size(); ++k)
    all.residuals.push_back((values[k] - x[0] - x[1] * times[k]) / s);
  if (!slopes) return all;
  all.jacobian.resize(6, 2);
  for (int k = 0; k < 6; ++k) {
    all.jacobian(k, 0) = -1 / s;
    all.jacobian(k, 1) = -times[static_cast<std::size_t>(k)] / s;
  }
  return all;
}

TEST(LeastSquares, a_straight_line_is_that_of_the_normal_equations) {
  const LeastSquares fit = least_squares(line, {{"a", 0, -10, 10, 1}, {"b", 0, -10, 10, 1}});
  const double n = 6, St = 15, Stt = 55;
  double Sy = 0, Sty = 0;
  for (std::size_t k = 0; k < 6; ++k) {
    Sy += values[k];
    Sty += times[k] * values[k];
  }
  const double D = n * Stt - St * St;
  EXPECT_TRUE(fit.converged) << fit.message;
  EXPECT_NEAR(fit.best[0], (Stt * Sy - St * Sty) / D, 1e-6);
  EXPECT_NEAR(fit.best[1], (n * Sty - St * Sy) / D, 1e-6);
  const Uncertainty u = uncertainty(fit.jacobian, {10, 10});
  EXPECT_NEAR(u.standard_error[0], s * std::sqrt(Stt / D), 1e-9);
  EXPECT_NEAR(u.standard_error[1], s * std::sqrt(n / D), 1e-9);
  EXPECT_NEAR(u.correlation(0, 1), -St / std::sqrt(n * Stt), 1e-9);
  EXPECT_TRUE(u.cannot_tell.empty());
}

TEST(LeastSquares, stays_within_bounds) {
  const LeastSquares fit = least_squares(line, {{"a", 0, -10, 10, 1}, {"b", 0, -10, 1.5, 1}});
  EXPECT_DOUBLE_EQ(fit.best[1], 1.5);
  EXPECT_THROW(least_squares(line, {{"a", 0, 1, 10, 1}, {"b", 0, -10, 10, 1}}),
               std::invalid_argument);
}

TEST(LeastSquares, a_model_that_fails_in_places_is_still_fitted) {
  const Model fails = [](const std::vector<double>& x, bool slopes) {
    return x[1] > 2.5 ? std::nullopt : line(x, slopes);
  };
  const LeastSquares fit = least_squares(fails, {{"a", 9, -10, 10, 1}, {"b", -9, -10, 10, 1}});
  EXPECT_NEAR(fit.best[1], 1.98857, 1e-4);
  const Model never = [](const std::vector<double>&, bool) { return std::optional<Linearised>(); };
  EXPECT_THROW(least_squares(never, {{"a", 0, -1, 1, 1}}), std::invalid_argument);
}

TEST(LeastSquares, says_which_unknowns_cannot_be_told) {
  // Only the sum of the first two counts, and nothing of the fourth.
  Eigen::MatrixXd J(5, 4);
  for (int k = 0; k < 5; ++k) J.row(k) << 10.0, 10.0, 3.0 * k, 0.0;
  const Uncertainty u = uncertainty(J, {1, 1, 1, 1});
  ASSERT_EQ(u.cannot_tell.size(), 2u);
  std::vector<std::vector<std::size_t>> groups = u.cannot_tell;
  for (auto& group : groups) std::sort(group.begin(), group.end());
  std::sort(groups.begin(), groups.end());
  EXPECT_EQ(groups[0], (std::vector<std::size_t>{0, 1}));
  EXPECT_EQ(groups[1], (std::vector<std::size_t>{3}));
  EXPECT_NEAR(u.correlation(0, 1), -1, 1e-6);
  EXPECT_GT(u.standard_error[3], 1e100);
  EXPECT_LT(u.standard_error[2], 1);
}

// Residuals of alternating size one: chi^2 = n/(n - 1), and as many runs as can be.
TEST(Goodness, size_and_order_are_tested_apart) {
  std::vector<double> fine, large, slow;
  for (int n = 0; n < 100; ++n) {
    fine.push_back(n % 3 == 0 ? 1.2 : n % 2 == 0 ? -0.9 : 0.9);
    large.push_back(2 * fine.back());
    slow.push_back(n < 50 ? 0.9 : -0.9);
  }
  EXPECT_TRUE(matches(goodness(fine, 1, 1e9)));
  EXPECT_LT(goodness(large, 1, 1e9).by_size, 1e-6);
  EXPECT_GT(goodness(large, 1, 1e9).by_order, 0.1);
  EXPECT_LT(goodness(slow, 1, 1e9).by_order, 1e-6);
  EXPECT_GT(goodness(slow, 1, 1e9).by_size, 0.5);
  EXPECT_NEAR(goodness(slow, 1, 1e9).chi_square, 81 / 99.0, 1e-12);
  // With a noise that is hardly known a size says little.
  EXPECT_GT(goodness(large, 1, 3).by_size, 0.01);
  EXPECT_EQ(goodness({1, 1, 1, 1}, 4, 10).by_order, 0.125);
}

}  // namespace
}  // namespace tabmelt::inference
