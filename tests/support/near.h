// Relative comparison of two numbers whose failure prints both, the error and the limit.
//
//   EXPECT_NEAR_RELATIVE(resistance, 1.5e-4, 1e-3);
//
// |actual - expected| <= tolerance |expected|. An expected zero has no relative error and fails:
// use EXPECT_NEAR there. Not-a-number fails.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <iomanip>
#include <limits>
#include <sstream>

namespace tabmelt {

inline double relative_error(double actual, double expected) {
  return std::abs(actual - expected) / std::abs(expected);
}

inline testing::AssertionResult near_relative(const char* actual_text, const char* expected_text,
                                              const char* /*tolerance_text*/, double actual,
                                              double expected, double tolerance) {
  const double error = relative_error(actual, expected);
  if (error <= tolerance) {
    return testing::AssertionSuccess();
  }
  std::ostringstream text;
  text << std::setprecision(std::numeric_limits<double>::max_digits10) << actual_text << " is "
       << actual << "\n"
       << expected_text << " is " << expected << "\n"
       << std::setprecision(3) << "relative error " << error << ", allowed " << tolerance;
  return testing::AssertionFailure() << text.str();
}

}  // namespace tabmelt

#define EXPECT_NEAR_RELATIVE(actual, expected, tolerance) \
  EXPECT_PRED_FORMAT3(::tabmelt::near_relative, actual, expected, tolerance)
#define ASSERT_NEAR_RELATIVE(actual, expected, tolerance) \
  ASSERT_PRED_FORMAT3(::tabmelt::near_relative, actual, expected, tolerance)
