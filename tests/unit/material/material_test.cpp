// A material's properties at a temperature: two phases joined by the liquid fraction.
// Catches: solid and liquid swapped, a jump at solidus or liquidus, the radial ratio applied to the
// wrong direction, an insulator treated as a conductor.
#include "solver/material/material.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

namespace tabmelt {
namespace {

// Invented numbers, round so that the blends are easy to read.
Material melting_metal() {
  Material m;
  m.name = "invented";
  m.density = 8000;
  m.specific_heat = {{300, 1700}, {400, 600}};
  m.specific_heat_liquid = Curve::constant(700);
  m.thermal_conductivity = {{300, 1700}, {90, 70}};
  m.thermal_conductivity_liquid = {{1700, 2300}, {50, 56}};
  m.resistivity = {{300, 1700}, {1e-7, 6e-7}};
  m.resistivity_liquid = {{1700, 2300}, {9e-7, 9.6e-7}};
  m.melting = Melting{1700, 1800, 3e5};
  return m;
}

TEST(Material, liquid_fraction_rises_evenly_from_solidus_to_liquidus) {
  const Material m = melting_metal();
  EXPECT_EQ(m.liquid_fraction(293), 0);
  EXPECT_EQ(m.liquid_fraction(1700), 0);
  EXPECT_DOUBLE_EQ(m.liquid_fraction(1725), 0.25);
  EXPECT_DOUBLE_EQ(m.liquid_fraction(1790), 0.9);
  EXPECT_EQ(m.liquid_fraction(1800), 1);
  EXPECT_EQ(m.liquid_fraction(4000), 1);
}

TEST(Material, liquid_fraction_of_a_pure_metal_jumps) {
  Material m = melting_metal();
  m.melting = Melting{1728, 1728, 3e5};
  EXPECT_EQ(m.liquid_fraction(std::nextafter(1728, 0)), 0);
  EXPECT_EQ(m.liquid_fraction(std::nextafter(1728, 1e9)), 1);
  EXPECT_TRUE(std::isfinite(m.conductivity_z(1728)));
  EXPECT_TRUE(std::isfinite(m.resistivity_at(1728)));
}

TEST(Material, without_melting_nothing_is_ever_liquid) {
  Material m = melting_metal();
  m.melting.reset();
  EXPECT_EQ(m.liquid_fraction(5000), 0);
  EXPECT_EQ(m.conductivity_z(5000), 70);
  EXPECT_EQ(m.resistivity_at(5000), 6e-7);
}

TEST(Material, each_phase_follows_its_own_curve) {
  const Material m = melting_metal();
  EXPECT_DOUBLE_EQ(m.conductivity_z(1000), 80);
  EXPECT_DOUBLE_EQ(m.resistivity_at(1000), 3.5e-7);
  EXPECT_DOUBLE_EQ(m.conductivity_z(2000), 53);
  EXPECT_DOUBLE_EQ(m.resistivity_at(2000), 9.3e-7);
}

TEST(Material, phases_blend_by_the_liquid_fraction) {
  const Material m = melting_metal();
  // At 1750 half is liquid: the solid holds its end value, the liquid has 50.5 and 9.05e-7.
  EXPECT_DOUBLE_EQ(m.conductivity_z(1750), 0.5 * 70 + 0.5 * 50.5);
  EXPECT_DOUBLE_EQ(m.resistivity_at(1750), 0.5 * 6e-7 + 0.5 * 9.05e-7);
  // A quarter: weights 3/4 and 1/4, not the other way round.
  EXPECT_DOUBLE_EQ(m.conductivity_z(1725), 0.75 * 70 + 0.25 * 50.25);
}

TEST(Material, nothing_jumps_over_a_melting_range) {
  const Material m = melting_metal();
  for (const double T : {1700.0, 1800.0}) {
    EXPECT_NEAR(m.conductivity_z(T - 1e-6), m.conductivity_z(T + 1e-6), 1e-5);
    EXPECT_NEAR(m.resistivity_at(T - 1e-6), m.resistivity_at(T + 1e-6), 1e-13);
  }
}

TEST(Material, without_a_liquid_curve_the_solid_end_value_goes_on) {
  Material m = melting_metal();
  m.thermal_conductivity_liquid = {};
  m.resistivity_liquid = {};
  for (const double T : {1700.0, 1750.0, 1800.0, 2500.0}) {
    EXPECT_EQ(m.conductivity_z(T), 70);
    EXPECT_EQ(m.resistivity_at(T), 6e-7);
  }
}

TEST(Material, ratio_scales_the_radial_conductivity_only) {
  Material m = melting_metal();
  m.radial_conductivity_ratio = 20;  // a winding conducts along its foils
  for (const double T : {300.0, 1750.0, 2000.0}) {
    EXPECT_DOUBLE_EQ(m.conductivity_r(T), 20 * m.conductivity_z(T));
  }
  EXPECT_DOUBLE_EQ(m.conductivity_z(300), 90);
}

TEST(Material, insulator_has_no_resistivity) {
  Material m = melting_metal();
  EXPECT_TRUE(m.conducts_current());
  m.resistivity = {};
  EXPECT_FALSE(m.conducts_current());
  EXPECT_THROW(m.resistivity_at(300), std::logic_error);
  EXPECT_THROW(m.resistivity_at(2000), std::logic_error);
}

TEST(Material, hardness_falls_with_its_ratio) {
  Material m = melting_metal();
  EXPECT_THROW(m.hardness_at(300), std::logic_error);
  m.hardness = 1e9;
  EXPECT_EQ(m.hardness_at(1500), 1e9);  // no ratio: cold everywhere
  m.hardness_ratio = {{300, 1300}, {1, 0.1}};
  EXPECT_DOUBLE_EQ(m.hardness_at(300), 1e9);
  EXPECT_DOUBLE_EQ(m.hardness_at(800), 0.55e9);
  EXPECT_DOUBLE_EQ(m.hardness_at(2000), 1e8);
}

TEST(Material, covered_range_is_what_all_curves_share) {
  Material m = melting_metal();
  m.thermal_conductivity = {{350, 1700}, {90, 70}};
  m.resistivity = {{250, 1650}, {1e-7, 6e-7}};
  // Molten: the liquid curves decide how far up the data reach.
  m.resistivity_liquid = {{1700, 2100}, {9e-7, 9.6e-7}};
  EXPECT_EQ(m.covered_to(), 2100);
  m.melting.reset();
  EXPECT_EQ(m.covered_to(), 1650);
}

}  // namespace
}  // namespace tabmelt
