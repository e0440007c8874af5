// erfcx, ierfc and the Bessel zeros against tables and identities.
// Catches: loss of digits where the defining differences cancel, a wrong continued fraction.
#include "tests/support/special_functions.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/near.h"

namespace tabmelt::exact {
namespace {

constexpr double sqrt_pi = 1.7724538509055160;

TEST(SpecialFunctions, ierfc_matches_its_table) {
  // Carslaw & Jaeger, 2nd ed. (1959), appendix II, table I, four decimals (values from memory).
  EXPECT_NEAR(ierfc(0), 0.5642, 5e-5);
  EXPECT_NEAR(ierfc(0.5), 0.1996, 5e-5);
  EXPECT_NEAR(ierfc(1), 0.0503, 5e-5);
}

TEST(SpecialFunctions, fraction_and_definition_agree_where_they_meet) {
  for (const double x : {2.5, 2.6, 3.0}) {
    EXPECT_NEAR_RELATIVE(erfcx(x), std::exp(x * x) * std::erfc(x), 1e-14);
    EXPECT_NEAR_RELATIVE(ierfc(x), std::exp(-x * x) / sqrt_pi - x * std::erfc(x), 1e-12);
  }
}

TEST(SpecialFunctions, ierfc_falls_at_the_rate_erfc) {
  // d(ierfc)/dx = -erfc, by central differences, on both branches
  for (const double x : {0.3, 1.7, 2.9, 5.0}) {
    const double step = 1e-5;
    EXPECT_NEAR_RELATIVE((ierfc(x - step) - ierfc(x + step)) / (2 * step), std::erfc(x), 3e-9);
  }
}

TEST(SpecialFunctions, large_arguments_follow_the_asymptotic_series) {
  // Abramowitz & Stegun (1964), 7.1.23
  for (const double x : {30.0, 1e3, 1e8}) {
    const double y = 1 / (2 * x * x);
    EXPECT_NEAR_RELATIVE(erfcx(x), (1 - y + 3 * y * y - 15 * y * y * y) / (sqrt_pi * x), 1e-11);
  }
  const double x = 12;
  const double y = 1 / (2 * x * x);
  const double series = 1 - 3 * y + 15 * y * y - 105 * y * y * y + 945 * y * y * y * y;
  EXPECT_NEAR_RELATIVE(ierfc(x), std::exp(-x * x) / sqrt_pi * y * series, 1e-8);
}

TEST(SpecialFunctions, zeros_are_zeros) {
  // First zeros: Abramowitz & Stegun (1964), table 9.5
  EXPECT_NEAR(zeros_of_j0()[0], 2.4048255577, 1e-10);
  EXPECT_NEAR(zeros_of_j0()[19], 62.0484691902, 1e-10);
  EXPECT_NEAR(zeros_of_j1()[0], 3.83171, 5e-6);
  EXPECT_NEAR(zeros_of_j1()[19], 63.61136, 5e-6);
  for (const std::size_t n : {0u, 50u, 399u}) {
    EXPECT_NEAR(std::cyl_bessel_j(0, zeros_of_j0()[n]), 0, 1e-12);
  }
  for (std::size_t n = 1; n < zeros_of_j1().size(); ++n) {
    const double gap = zeros_of_j1()[n] - zeros_of_j1()[n - 1];
    ASSERT_GT(gap, 3.14159);
    ASSERT_LT(gap, 3.19);
  }
}

}  // namespace
}  // namespace tabmelt::exact
