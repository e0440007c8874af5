// The judge of orders judged: known orders are found, wrong ones and unusable data refused.
#include "tests/support/order_of_accuracy.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <sstream>
#include <stdexcept>

#include "tests/support/near.h"

namespace tabmelt {
namespace {

// Trapezoidal rule on Int_0^1 exp(x) dx: second order.
double trapezoidal_error(int n) {
  double sum = 0;
  for (int i = 0; i < n; ++i) {
    sum += 0.5 * (std::exp(static_cast<double>(i) / n) + std::exp((i + 1.0) / n)) / n;
  }
  return std::abs(sum - (std::exp(1.0) - 1));
}

TEST(OrderOfAccuracy, finds_second_order_of_the_trapezoidal_rule) {
  const auto study = order_in_cells({8, 16, 32, 64}, trapezoidal_error);
  EXPECT_TRUE(order_within(study, 2, 0.01));
  EXPECT_EQ(study.error.size(), 4u);
  EXPECT_EQ(study.order.size(), 3u);
  EXPECT_NEAR(study.fitted_order, 2, 0.01);
}

TEST(OrderOfAccuracy, finds_first_order_of_explicit_euler_on_uneven_steps) {
  const auto study = order_in_steps({1.0 / 50, 1.0 / 120, 1.0 / 200}, [](double dt) {
    return std::abs(std::pow(1 - dt, std::round(1 / dt)) - std::exp(-1.0));
  });
  EXPECT_TRUE(order_within(study, 1, 0.03));
}

TEST(OrderOfAccuracy, band_has_two_sides) {
  const auto study = order_in_cells({8, 16, 32}, trapezoidal_error);
  EXPECT_FALSE(order_within(study, 1.8, 0.15));  // too good
  EXPECT_FALSE(order_within(study, 2.2, 0.15));  // too poor
}

TEST(OrderOfAccuracy, one_bad_pair_fails_although_the_fit_passes) {
  // errors 1, 1/8, 1/16: pairs 3 and 1, fit 2
  const auto study = order_in_steps({1, 0.5, 0.25}, [](double h) { return h == 1 ? 1.0 : h / 4; });
  EXPECT_NEAR(study.fitted_order, 2, 1e-12);
  EXPECT_FALSE(order_within(study, 2, 0.5));
  EXPECT_TRUE(order_within(study, 1, 1e-9, 1));
  EXPECT_THROW(order_within(study, 1, 1e-9, 2), std::invalid_argument);
}

TEST(OrderOfAccuracy, refuses_what_shows_no_order) {
  const auto linear = [](double h) { return h; };
  EXPECT_THROW(order_in_steps({0.2, 0.1}, linear), std::invalid_argument);
  EXPECT_THROW(order_in_steps({0.1, 0.2, 0.4}, linear), std::invalid_argument);
  EXPECT_THROW(order_in_steps({0.2, 0.2, 0.1}, linear), std::invalid_argument);
  EXPECT_THROW(order_in_cells({40, 20, 10}, [](int n) { return 1.0 / n; }), std::invalid_argument);
  const std::vector<double> steps{0.4, 0.2, 0.1};
  for (const double bad : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN(),
                           std::numeric_limits<double>::infinity()}) {
    EXPECT_THROW(order_in_steps(steps, [bad](double) { return bad; }), std::domain_error);
  }
}

TEST(OrderOfAccuracy, prints_steps_errors_and_orders) {
  std::ostringstream text;
  text << order_in_cells({10, 20, 40}, [](int n) { return 1.0 / n; });
  EXPECT_EQ(text.str(),
            "        step        error    order\n"
            "  1.0000e-01   1.0000e-01\n"
            "  5.0000e-02   5.0000e-02    1.000\n"
            "  2.5000e-02   2.5000e-02    1.000\n"
            "fit                          1.000\n");
}

TEST(Near, compares_relative_to_the_expected_number) {
  EXPECT_TRUE(near_relative("", "", "", 101, 100, 0.011));
  EXPECT_FALSE(near_relative("", "", "", 101, 100, 0.009));
  EXPECT_TRUE(near_relative("", "", "", -1e-20, -1.005e-20, 0.01));
  EXPECT_FALSE(near_relative("", "", "", 1, -1, 1));
  EXPECT_FALSE(near_relative("", "", "", std::nan(""), 1, 1));
  EXPECT_FALSE(near_relative("", "", "", 0, 0, 1));
}

TEST(Near, failure_names_both_numbers) {
  const std::string message = near_relative("R", "exact", "", 1.5, 1.25, 0.01).message();
  EXPECT_NE(message.find("R is 1.5"), std::string::npos);
  EXPECT_NE(message.find("exact is 1.25"), std::string::npos);
  EXPECT_NE(message.find("0.2, allowed 0.01"), std::string::npos);
}

}  // namespace
}  // namespace tabmelt
