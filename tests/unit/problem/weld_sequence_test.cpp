#include "solver/problem/weld_sequence.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace tabmelt {
namespace {

const WindingRod rod{9e-3, 65e-3, 13.6, 2.47e6};

double area() { return std::numbers::pi * 81e-6; }

// The same series in the form for long times: cosines of the insulated rod, Carslaw and Jaeger,
// Conduction of Heat in Solids, 3.3 (from memory).
double by_cosines(double heat, double time) {
  const double a = rod.conductivity / rod.heat_capacity;
  double sum = 1;
  for (int n = 1; n < 4000; ++n)
    sum += 2 * std::exp(-a * time * std::pow(n * std::numbers::pi / rod.length, 2));
  return heat / (area() * rod.length * rod.heat_capacity) * sum;
}

TEST(WeldSequence, images_and_cosines_agree) {
  for (const double t : {0.5, 2.0, 20.0, 200.0, 700.0, 2000.0, 6000.0, 1e5})
    EXPECT_NEAR(end_rise(rod, 10, t), by_cosines(10, t), 1e-12 * by_cosines(10, t)) << t;
}

TEST(WeldSequence, long_after_the_heat_is_spread_evenly) {
  const double even = 10 / (area() * rod.length * rod.heat_capacity);
  EXPECT_NEAR(end_rise(rod, 10, 1e6), even, 1e-14);
}

TEST(WeldSequence, rises_add_up) {
  EXPECT_EQ(rise_before_last(rod, 10, 1, 2), 0);
  EXPECT_DOUBLE_EQ(rise_before_last(rod, 10, 2, 2), end_rise(rod, 10, 2));
  EXPECT_DOUBLE_EQ(rise_before_last(rod, 10, 3, 2), end_rise(rod, 10, 2) + end_rise(rod, 10, 4));
  EXPECT_NEAR(rise_before_last(rod, 20, 3, 2), 2 * rise_before_last(rod, 10, 3, 2), 1e-12);
}

TEST(WeldSequence, the_shortest_pause_just_keeps_the_limit) {
  const double pause = *shortest_pause(rod, 10, 6, 8);
  EXPECT_NEAR(rise_before_last(rod, 10, 6, pause), 8, 1e-9);
  EXPECT_EQ(*shortest_pause(rod, 10, 1, 8), 0);
  // Six welds warm the whole winding by 5 * 10 J over its heat capacity of 41 J/K.
  EXPECT_FALSE(shortest_pause(rod, 10, 6, 1.2));
  EXPECT_TRUE(shortest_pause(rod, 10, 6, 1.3));
}

// exp(-d^2/(4 a t))/t is largest at d^2/(4 a): compare it with its neighbours.
TEST(WeldSequence, heat_is_felt_most_after_the_spreading_time) {
  const double d = 4e-3, a = 1.5e-5, t = spreading_time(d, a);
  const auto felt = [&](double time) { return std::exp(-d * d / (4 * a * time)) / time; };
  EXPECT_GT(felt(t), felt(0.99 * t));
  EXPECT_GT(felt(t), felt(1.01 * t));
  EXPECT_THROW(spreading_time(0, a), std::invalid_argument);
}

TEST(WeldSequence, nonsense_is_refused) {
  EXPECT_THROW(end_rise(rod, 1, 0), std::invalid_argument);
  EXPECT_THROW(end_rise({}, 1, 1), std::invalid_argument);
  EXPECT_THROW(rise_before_last(rod, 1, 0, 1), std::invalid_argument);
  EXPECT_THROW(rise_before_last(rod, 1, 2, 0), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt
