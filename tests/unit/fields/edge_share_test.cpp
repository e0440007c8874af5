// The share of a contact's edge column: its closed forms, its limits, and that it never falls as
// the contact grows, whatever the grid. Catches: a column counted twice or left out, a share
// outside 0..1, a jump from column to column.
#include "solver/finite_volume/edge_share.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "tests/support/near.h"

namespace tabmelt {
namespace {

TEST(EdgeShare, perfect_contact_between_like_rows_has_a_closed_form) {
  for (const double dz : {0.2, 1.0, 3.0}) {
    const EdgeSides sides{2, dz, 2, dz, 1e18};
    EXPECT_NEAR(edge_shift(sides, 1).value, 0.25 * std::hypot(1, dz), 2e-6);
    EXPECT_NEAR_RELATIVE(edge_impedance(sides, 1).value, (1 + std::hypot(1, dz)) / dz, 1e-7);
    // Two bodies of unlike conductivity, rows alike, are no different.
    const EdgeSides unlike{2, dz, 9, dz, 1e18};
    EXPECT_NEAR(edge_shift(unlike, 1).value, edge_shift(sides, 1).value, 1e-9);
  }
}

TEST(EdgeShare, poor_contact_conducts_as_it_is_covered) {
  const std::vector<double> r{0, 1, 2, 3, 4};
  const EdgeShare edge = edge_share(r, 4, {1, 0.3, 5, 0.2, 1e-9}, std::sqrt(6.5));
  EXPECT_EQ(edge.column, 2U);
  EXPECT_NEAR(edge.share, 0.5, 1e-6);
  EXPECT_NEAR(edge.touching, 0.5, 1e-6);
}

TEST(EdgeShare, nothing_conducts_without_a_conductor) {
  const std::vector<double> r{0, 1, 2, 3};
  EXPECT_EQ(edge_share(r, 3, {0, 1, 1, 1, 1}, 1.5).share_in(1), 0);
  EXPECT_EQ(edge_share(r, 3, {1, 1, 1, 1, 0}, 1.5).share_in(1), 0);
  EXPECT_EQ(edge_share(r, 3, {1, 1, 1, 1, 1}, 0).share_in(0), 0);
  EXPECT_EQ(EdgeShare::none().share_in(7), 1);
}

// The body above ends at the third column's face: its corner takes resistance off that column.
TEST(EdgeShare, a_rods_last_column_conducts_more_than_its_area) {
  const std::vector<double> r{0, 1, 2, 3, 4};
  const EdgeSides sides{1, 1, 1, 1, 1e9};
  EXPECT_EQ(edge_share(r, 3, sides, 3).column, 2U);
  EXPECT_NEAR_RELATIVE(1 / edge_share(r, 3, sides, 3).share, 1 - 0.34, 1e-6);
  EXPECT_GT(edge_share(r, 3, sides, 2.9).share, 1);
  EXPECT_LT(edge_share(r, 3, sides, 2.9).share, edge_share(r, 3, sides, 3).share);
}

TEST(EdgeShare, never_falls_and_never_jumps_as_the_contact_grows) {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> width(0.85, 1.18), logarithm(-3, 3);
  for (int grid = 0; grid < 300; ++grid) {
    std::vector<double> r{0};
    for (int n = 0; n < 14; ++n) r.push_back(r.back() + width(random));
    const auto any = [&] { return std::pow(10.0, logarithm(random) / 3); };
    const EdgeSides sides{any(), 0.3 + 0.1 * any(), any(), 0.3 + 0.1 * any(),
                          std::pow(10.0, logarithm(random))};
    double conducting = 0;
    for (double b = 2; b < 12; b += 0.02) {
      const EdgeShare edge = edge_share(r, 14, sides, b);
      const double now = static_cast<double>(edge.column) + edge.share;
      EXPECT_GE(edge.share, 0);
      EXPECT_LE(edge.share, 1);
      EXPECT_GE(now, conducting - 1e-9) << grid << " at " << b;
      if (b > 2) {
        EXPECT_LT(now - conducting, 0.5) << grid << " at " << b;
      }
      conducting = now;
    }
  }
}

TEST(EdgeShare, slope_is_the_derivative_by_the_contacts_resistance) {
  std::vector<double> r;
  for (int n = 0; n <= 20; ++n) r.push_back(n);
  for (const double g : {1e3, 10.0, 1.0, 0.01}) {
    for (const double b : {10.2, 10.5, 10.9, 19.9}) {
      const EdgeSides sides{1, 1, 5, 1.3, g};
      EdgeSides more = sides, less = sides;
      more.g *= std::exp(-1e-4);
      less.g *= std::exp(1e-4);
      const double difference =
          1 / edge_share(r, 20, more, b).share - 1 / edge_share(r, 20, less, b).share;
      EXPECT_NEAR_RELATIVE(edge_share(r, 20, sides, b).slope, difference / 2e-4, 1e-4)
          << g << " at " << b;
    }
  }
}

}  // namespace
}  // namespace tabmelt
