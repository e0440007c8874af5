#include "solver/sampling/draws.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "solver/sampling/chance.h"

namespace tabmelt::study {
namespace {

// A digital net: each of the 2^k intervals of length 2^-k holds one of the first 2^k points, in
// every coordinate. The shift keeps that; independent numbers would not.
TEST(EvenPoints, every_coordinate_fills_each_interval_once) {
  const std::size_t n = 256;
  const auto points = even_points(n, 25);
  for (std::size_t d = 0; d < 25; ++d) {
    std::vector<int> held(n, 0);
    // Boost's engine leaves out the first point of the sequence, so one interval is met later.
    for (const auto& point : points) ++held[static_cast<std::size_t>(point[d] * n)];
    int missed = 0;
    for (const int count : held) missed += count == 0 ? 1 : 0;
    EXPECT_LE(missed, 1) << d;
  }
}

// integral of prod_i (1 + 0.5 (x_i - 0.5)) over the cube is 1; error of 1024 independent points
// would be about sqrt((1 + 1/48)^6 - 1)/32 = 0.011.
TEST(EvenPoints, integrate_better_than_chance) {
  double sum = 0;
  const auto points = even_points(1024, 6);
  for (const auto& point : points) {
    double product = 1;
    for (const double x : point) product *= 1 + 0.5 * (x - 0.5);
    sum += product;
  }
  EXPECT_NEAR(sum / 1024, 1, 1e-3);
}

TEST(EvenPoints, begin_alike_and_depend_on_the_seed) {
  const auto few = even_points(10, 3), many = even_points(20, 3), other = even_points(10, 3, 2);
  for (std::size_t n = 0; n < few.size(); ++n) EXPECT_EQ(few[n], many[n]);
  EXPECT_NE(few[0], other[0]);
  for (const auto& point : many)
    for (const double u : point) {
      EXPECT_GT(u, 0);
      EXPECT_LT(u, 1);
    }
  EXPECT_THROW(even_points(1, 0), std::invalid_argument);
}

// The bounds solve the defining equations of Clopper and Pearson: P(X >= k | low) = P(X <= k |
// high) = 2.5 %. Without a success they have the closed form 1 - 0.025^(1/n).
TEST(Chance, interval_of_clopper_and_pearson) {
  const Chance none = chance_of(0, 20);
  EXPECT_EQ(none.low, 0);
  EXPECT_NEAR(none.high, 1 - std::pow(0.025, 1.0 / 20), 1e-9);
  const Chance all = chance_of(20, 20);
  EXPECT_EQ(all.value, 1);
  EXPECT_EQ(all.high, 1);
  EXPECT_NEAR(all.low, std::pow(0.025, 1.0 / 20), 1e-9);
  const Chance some = chance_of(8, 20);
  double below = 0, term = 0;
  for (int k = 0; k <= 8; ++k) {
    term = std::exp(std::lgamma(21) - std::lgamma(k + 1) - std::lgamma(21 - k) +
                    k * std::log(some.high) + (20 - k) * std::log1p(-some.high));
    below += term;
  }
  EXPECT_NEAR(below, 0.025, 1e-9);
}

TEST(Chance, what_failed_widens_the_interval_to_both_sides) {
  const Chance sure = chance_of(8, 20), unsure = chance_of(8, 20, 4);
  EXPECT_NEAR(unsure.value, 0.5, 1e-15);
  EXPECT_EQ(unsure.low, sure.low);
  EXPECT_EQ(unsure.high, chance_of(12, 20).high);
  EXPECT_THROW(chance_of(18, 20, 4), std::invalid_argument);
  EXPECT_EQ(chance_of(0, 0).high, 1);
}

}  // namespace
}  // namespace tabmelt::study
