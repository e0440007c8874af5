// Enthalpy curves and their inverse.
// Catches: a latent heat counted in part or twice, a jump at a phase boundary, a search that falls
// into the wrong segment, a slope that is not the heat capacity.
#include "solver/phase_change/enthalpy.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "tests/support/near.h"

namespace tabmelt {
namespace {

Material plain_metal() {
  Material m;
  m.name = "plain";
  m.density = 8000;
  m.specific_heat = Curve::constant(500);
  return m;
}

// Round numbers near nickel: a rising solid curve with a peak, melting over a range, boiling.
Material nickel_like() {
  Material m;
  m.name = "nickel-like";
  m.density = 8900;
  m.specific_heat = {{293.15, 500, 631, 700, 1400, 1728}, {445, 520, 650, 530, 600, 620}};
  m.specific_heat_liquid = {{1728, 3000}, {730, 740}};
  m.melting = Melting{1723, 1733, 298000};
  m.boiling = Boiling{3186, 6.4e6};
  return m;
}

Material iron_like() {
  Material m = plain_metal();
  m.density = 7850;
  m.specific_heat = {{293.15, 900, 1043, 1100, 1811}, {450, 800, 1400, 800, 700}};
  m.transformations = {{1185, 1195, 16000}};
  m.melting = Melting{1790, 1811, 247000};
  m.boiling = Boiling{3134, 6.1e6};
  return m;
}

Material pure_metal() {
  Material m = plain_metal();
  m.melting = Melting{1358, 1358, 205000};
  return m;
}

// A heat capacity that falls to a hundredth along one straight line.
Material falling() {
  Material m = plain_metal();
  m.name = "falling";
  m.specific_heat = {{600, 615, 1300}, {600, 60000, 600}};
  return m;
}

std::vector<Material> all() {
  return {plain_metal(), nickel_like(), iron_like(), pure_metal(), falling()};
}

TEST(Enthalpy, zero_at_the_reference_temperature) {
  for (const Material& m : all())
    EXPECT_EQ(Enthalpy(m).at(Enthalpy::reference_temperature), 0) << m.name;
}

TEST(Enthalpy, temperature_comes_back) {
  for (const Material& m : all()) {
    const Enthalpy law(m);
    std::vector<double> temperatures;
    for (double T = 150; T < 6000; T += 3.7) temperatures.push_back(T);
    for (const double corner : {law.solidus(), law.liquidus(), 1185.0, 1195.0, 3186.0, 3206.0})
      for (const double away : {-1e-6, 0.0, 1e-6})
        if (corner > 0) temperatures.push_back(corner + away);
    for (const double T : temperatures) {
      const double H = law.at(T);
      EXPECT_NEAR(law.temperature(H), T, 1e-9) << m.name;
      EXPECT_NEAR(law.at(law.temperature(H)), H, 1e-12 * std::abs(H) + 1e-3) << m.name;
    }
  }
}

TEST(Enthalpy, rises_everywhere) {
  for (const Material& m : all()) {
    const Enthalpy law(m);
    double before = law.at(120);
    for (double T = 120.5; T < 8000; T += 0.5) {
      const double H = law.at(T);
      ASSERT_GT(H, before) << m.name << " at " << T;
      before = H;
    }
  }
}

TEST(Enthalpy, slope_is_the_heat_capacity) {
  for (const Material& m : all()) {
    const Enthalpy law(m);
    for (double T = 150.3; T < 5000; T += 11.1) {
      const double d = 1e-3;
      const double capacity = law.heat_capacity(law.at(T));
      // A difference quotient is blind to a kink inside it: skip those.
      const double left = law.heat_capacity(law.at(T - d)),
                   right = law.heat_capacity(law.at(T + d));
      if (std::abs(left - right) > 1e-3 * capacity) continue;
      EXPECT_NEAR_RELATIVE((law.at(T + d) - law.at(T - d)) / (2 * d), capacity, 1e-5);
    }
  }
}

TEST(Enthalpy, both_answers_at_once_are_the_same_two) {
  const Enthalpy law(iron_like());
  for (double H = -5e8; H < 4e10; H += 1.3e8) {
    double T = 0, capacity = 0;
    law.temperature_and_capacity(H, T, capacity);
    EXPECT_EQ(T, law.temperature(H));
    EXPECT_EQ(capacity, law.heat_capacity(H));
  }
}

TEST(Enthalpy, constant_heat_capacity_is_a_straight_line) {
  const Enthalpy law(plain_metal());
  for (const double T : {150.0, 293.15, 1000.0, 5000.0})
    EXPECT_NEAR(law.at(T), 8000 * 500 * (T - 293.15), 1e-4);
  EXPECT_FALSE(law.melts());
  EXPECT_EQ(law.liquid_fraction(1e5), 0);
  EXPECT_EQ(law.vapour_fraction(1e12), 0);
  EXPECT_TRUE(std::isinf(law.boiling()));
}

// Latent heat is the excess over the sensible heat: h(Tl) - h(Ts) = L + (cs + cl)(Tl - Ts)/2.
TEST(Enthalpy, melting_takes_the_latent_heat_beyond_the_sensible) {
  const Material m = nickel_like();
  const Enthalpy law(m);
  const double sensible =
      0.5 * (m.specific_heat.at(1723) + m.specific_heat_liquid.at(1733)) * (1733 - 1723);
  EXPECT_NEAR_RELATIVE(law.at(1733) - law.at(1723), 8900 * (298000 + sensible), 1e-12);
  EXPECT_DOUBLE_EQ(law.liquid_fraction(1728), 0.5);
  EXPECT_EQ(law.liquid_fraction(1700), 0);
  EXPECT_EQ(law.liquid_fraction(1800), 1);
  EXPECT_DOUBLE_EQ(law.half_molten(), 1728);
}

TEST(Enthalpy, one_melting_point_is_widened_around_it) {
  const Enthalpy law(pure_metal());
  EXPECT_DOUBLE_EQ(law.solidus(), 1358 - 0.5 * Enthalpy::narrowest_melting);
  EXPECT_DOUBLE_EQ(law.liquidus(), 1358 + 0.5 * Enthalpy::narrowest_melting);
  EXPECT_NEAR_RELATIVE(law.at(1500) - law.at(1200), 8000 * (500 * 300 + 205000.0), 1e-12);
}

TEST(Enthalpy, solid_transformation_takes_its_heat) {
  Material with = iron_like(), without = iron_like();
  without.transformations.clear();
  const Enthalpy a(with), b(without);
  EXPECT_NEAR_RELATIVE((a.at(1195) - a.at(1185)) - (b.at(1195) - b.at(1185)), 7850 * 16000.0, 1e-9);
  EXPECT_NEAR_RELATIVE(a.at(1190) - b.at(1190), 0.5 * 7850 * 16000.0, 1e-9);
  EXPECT_DOUBLE_EQ(a.at(1100), b.at(1100));
}

TEST(Enthalpy, boiling_holds_the_temperature_and_counts_the_vapour) {
  const Enthalpy law(nickel_like());
  const double start = law.at(3186), end = law.at(3186 + Enthalpy::boiling_width);
  EXPECT_GT(end - start, 8900 * 6.4e6);
  EXPECT_LT(end - start, 8900 * 6.5e6);
  EXPECT_EQ(law.vapour_fraction(start), 0);
  EXPECT_NEAR(law.vapour_fraction(0.5 * (start + end)), 0.5, 1e-12);
  EXPECT_EQ(law.vapour_fraction(1.1 * end), 1);
  EXPECT_LT(law.temperature(0.5 * (start + end)), 3186 + Enthalpy::boiling_width);
}

// A melting metal of which every value follows in closed form (the values are the quadrature of c):
// c = 440 + 0.12 (T - 300) J/kg/K solid, 730 liquid, melting 1700 to 1728 K with 298 kJ/kg.
// Alexiades & Solomon, Mathematical Modeling of Melting and Freezing Processes (1993), chapter 4
// (number from memory).
TEST(Enthalpy, test_curve_has_its_tabulated_values) {
  Material m;
  m.name = "test curve";
  m.density = 1;
  m.specific_heat = {{200, 1700}, {440 + 0.12 * (200 - 300), 440 + 0.12 * (1700 - 300)}};
  m.specific_heat_liquid = Curve::constant(730);
  m.melting = Melting{1700, 1728, 298000};
  const Enthalpy law(m);
  const double zero = law.at(300);
  const struct {
    double T, h;
  } rows[] = {{250, -21850},  {300, 0},        {1000, 337400},  {1700, 733600},
              {1714, 891539}, {1728, 1050332}, {2000, 1248892}, {3000, 1978892}};
  for (const auto& row : rows) EXPECT_NEAR(law.at(row.T) - zero, row.h, 1e-6) << row.T;
  const struct {
    double h, T;
  } back[] = {{1e5, 520.634596564}, {7e5, 1644.43212612},   {8e5, 1705.89504341},
              {1e6, 1723.5706168},  {1.1e6, 1796.03835616}, {2e6, 3028.91506849}};
  for (const auto& row : back) EXPECT_NEAR_RELATIVE(law.temperature(row.h + zero), row.T, 1e-11);
}

}  // namespace
}  // namespace tabmelt
