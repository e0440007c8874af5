// The table sampled every kelvin against the curves it was made from.
// Catches: an index off by one, a slope lost between samples, reading past the ends.
#include "solver/material/property_table.h"

#include <gtest/gtest.h>

namespace tabmelt {
namespace {

// Invented numbers; every kink sits on a half kelvin, between two samples.
Material kinked_metal() {
  Material m;
  m.density = 8000;
  m.specific_heat = Curve::constant(500);
  m.thermal_conductivity = {{300.5, 900.5, 1700.5}, {90, 40, 70}};
  m.thermal_conductivity_liquid = {{1700.5, 2300.5}, {50, 56}};
  m.resistivity = {{300.5, 1700.5}, {1e-7, 6e-7}};
  m.resistivity_liquid = Curve::constant(9e-7);
  m.melting = Melting{1700.5, 1800.5, 3e5};
  m.hardness = 1e9;
  m.hardness_ratio = {{300.5, 1300.5}, {1, 0.1}};
  m.radial_conductivity_ratio = 3;
  return m;
}

TEST(PropertyTable, equals_the_curves_at_whole_kelvins) {
  const Material m = kinked_metal();
  const PropertyTable table(m);
  for (int T = 200; T <= 4000; T += 13) {
    EXPECT_NEAR(table.conductivity_z(T), m.conductivity_z(T), 1e-10);
    EXPECT_NEAR(table.resistivity(T), m.resistivity_at(T), 1e-18);
    EXPECT_NEAR(table.hardness(T), m.hardness_at(T), 1e-2);
  }
}

TEST(PropertyTable, keeps_straight_lines_between_samples) {
  const Material m = kinked_metal();
  const PropertyTable table(m);
  for (const double T : {350.3, 899.5, 1200.77, 1699.9, 2100.1}) {
    EXPECT_NEAR(table.conductivity_z(T), m.conductivity_z(T), 1e-10);
    EXPECT_NEAR(table.resistivity(T), m.resistivity_at(T), 1e-18);
  }
}

TEST(PropertyTable, cuts_a_kink_by_no_more_than_its_slopes_over_a_kelvin) {
  const Material m = kinked_metal();
  const PropertyTable table(m);
  // The chord over a kink of slopes s1, s2 in the middle of a sample misses |s2 - s1|/4.
  const double s1 = -50.0 / 600, s2 = 30.0 / 800;
  EXPECT_NEAR(table.conductivity_z(900.5) - m.conductivity_z(900.5), (s2 - s1) / 4, 1e-10);
}

TEST(PropertyTable, holds_the_end_values_far_outside) {
  const Material m = kinked_metal();
  const PropertyTable table(m);
  EXPECT_EQ(table.conductivity_z(0), 90);
  EXPECT_EQ(table.conductivity_z(-300), 90);
  EXPECT_DOUBLE_EQ(table.conductivity_z(1e6), 56);
  EXPECT_DOUBLE_EQ(table.resistivity(1e6), 9e-7);
}

TEST(PropertyTable, knows_conductors_and_the_radial_ratio) {
  Material m = kinked_metal();
  EXPECT_TRUE(PropertyTable(m).conducts_current());
  EXPECT_EQ(PropertyTable(m).radial_ratio(), 3);
  m.resistivity = {};
  EXPECT_FALSE(PropertyTable(m).conducts_current());
}

}  // namespace
}  // namespace tabmelt
