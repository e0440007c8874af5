// Curves over temperature. Catches: extrapolation beyond the ends, an interval off by one.
#include "solver/material/curve.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace tabmelt {
namespace {

const Curve curve{{300, 400, 1000}, {10, 20, 8}};

TEST(Curve, passes_through_its_points) {
  EXPECT_EQ(curve.at(300), 10);
  EXPECT_EQ(curve.at(400), 20);
  EXPECT_EQ(curve.at(1000), 8);
}

TEST(Curve, is_straight_between_points) {
  EXPECT_DOUBLE_EQ(curve.at(325), 12.5);
  EXPECT_DOUBLE_EQ(curve.at(550), 17);
  EXPECT_DOUBLE_EQ(curve.at(999), 8.02);
}

TEST(Curve, holds_its_end_values_outside) {
  EXPECT_EQ(curve.at(299.999), 10);
  EXPECT_EQ(curve.at(0), 10);
  EXPECT_EQ(curve.at(1000.001), 8);
  EXPECT_EQ(curve.at(1e9), 8);
}

TEST(Curve, is_continuous_at_every_point) {
  for (const double T : curve.temperature) {
    const double below = std::nextafter(T, 0.0), above = std::nextafter(T, 1e9);
    EXPECT_NEAR(curve.at(below), curve.at(above), 1e-12);
  }
}

TEST(Curve, constant_is_the_same_everywhere) {
  const Curve constant = Curve::constant(7.5);
  EXPECT_FALSE(constant.empty());
  for (const double T : {0.0, 293.15, 5000.0}) {
    EXPECT_EQ(constant.at(T), 7.5);
  }
}

TEST(Curve, a_steep_step_of_two_close_points_stays_local) {
  const Curve step{{300, 1000, 1000.001, 2000}, {1, 1, 5, 5}};
  EXPECT_EQ(step.at(999.9), 1);
  EXPECT_NEAR(step.at(1000.0005), 3, 1e-6);
  EXPECT_EQ(step.at(1000.1), 5);
}

TEST(Curve, knows_its_range) {
  EXPECT_EQ(curve.lowest_temperature(), 300);
  EXPECT_EQ(curve.highest_temperature(), 1000);
  EXPECT_TRUE(Curve{}.empty());
}

}  // namespace
}  // namespace tabmelt
