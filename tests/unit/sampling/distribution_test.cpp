// Quantiles against closed forms and tables; cutting keeps a distribution.
#include "solver/sampling/distribution.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

namespace tabmelt::study {
namespace {

TEST(Distribution, uniform_runs_straight_between_its_ends) {
  const Distribution d = Distribution::uniform(2, 6);
  EXPECT_DOUBLE_EQ(d.quantile(0.25), 3);
  EXPECT_DOUBLE_EQ(d.quantile(0.5), 4);
}

// 0.975 quantile of the standard normal distribution 1.959964: NIST/SEMATECH e-Handbook of
// Statistical Methods, 1.3.6.7.1.
TEST(Distribution, normal_has_the_tabulated_quantiles) {
  const Distribution d = Distribution::normal(10, 2);
  EXPECT_DOUBLE_EQ(d.quantile(0.5), 10);
  EXPECT_NEAR(d.quantile(0.975), 10 + 2 * 1.959964, 1e-5);
  EXPECT_NEAR(d.quantile(0.025), 10 - 2 * 1.959964, 1e-5);
}

TEST(Distribution, log_normal_has_a_median_and_a_factor) {
  const Distribution d = Distribution::log_normal(3e-11, 1.75);
  EXPECT_NEAR(d.quantile(0.5) / 3e-11, 1, 1e-12);
  const double one_deviation = 0.5 * std::erfc(-1 / std::sqrt(2.0));
  EXPECT_NEAR(d.quantile(one_deviation) / 3e-11, 1.75, 1e-9);
  EXPECT_NEAR(d.quantile(1 - one_deviation) / 3e-11, 1 / 1.75, 1e-9);
}

TEST(Distribution, cut_stays_inside_and_says_how_much_was_lost) {
  const Distribution d = Distribution::normal(0, 1).within(0, 1e9);
  EXPECT_NEAR(d.cut_off(), 0.5, 1e-12);
  EXPECT_GE(d.quantile(1e-9), 0);
  // Half-normal: its median is the 0.75 quantile of the whole, 0.674490 (same table).
  EXPECT_NEAR(d.quantile(0.5), 0.674490, 1e-6);
  EXPECT_EQ(Distribution::uniform(0, 1).within(-1, 2).cut_off(), 0);
}

TEST(Distribution, refuses_what_is_none) {
  EXPECT_THROW(Distribution::uniform(1, 1), std::invalid_argument);
  EXPECT_THROW(Distribution::normal(0, -1), std::invalid_argument);
  EXPECT_THROW(Distribution::log_normal(0, 2), std::invalid_argument);
  EXPECT_THROW(Distribution::log_normal(1, 1), std::invalid_argument);
  EXPECT_THROW(Distribution::normal(0, 1).within(50, 60), std::invalid_argument);
  EXPECT_THROW(Distribution::normal(std::numeric_limits<double>::quiet_NaN(), 1),
               std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::study
