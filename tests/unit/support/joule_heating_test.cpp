// Joule-heated conductors against independent evaluation: ordinary differential equations
// integrated numerically, quadrature, the Wiedemann-Franz rod solved along its length (cosine).
// Catches: a wrong time constant, the factor 2 or 4 of the psi-theta relation.
#include "tests/support/joule_heating.h"

#include <gtest/gtest.h>

#include <cmath>

#include "solver/material/constants.h"
#include "tests/support/near.h"

namespace tabmelt::exact {
namespace {

const AdiabaticRod rod{8900, 500, 8e-8, 5e-3};  // round numbers
constexpr double digits = 1e-10;

TEST(JouleHeating, adiabatic_rod_as_tabulated) {
  EXPECT_NEAR_RELATIVE(rod.rise_at_current(2e9, 1e-3), 86.5370732612, digits);
  EXPECT_NEAR_RELATIVE(rod.rise_at_current(2e9, 2e-3), 210.517471765, digits);
  EXPECT_NEAR_RELATIVE(rod.rise_at_current(2e9, 5e-3), 1007.21360291, digits);
  EXPECT_NEAR_RELATIVE(rod.time_to_rise(2e9, 1428), 5.83169768817e-3, digits);
  EXPECT_NEAR_RELATIVE(rod.action_to_rise(1428), 2.33267907527e16, digits);
  EXPECT_NEAR_RELATIVE(rod.melting_time(2e9, 1428, 298000), 1.01819717445e-3, digits);
  EXPECT_NEAR_RELATIVE(rod.rise_at_field(100, 1e-2), 190.332615293, digits);
  EXPECT_NEAR_RELATIVE(rod.rise_at_field(100, 5e-2), 575.756245743, digits);
}

TEST(JouleHeating, copper_wire_melts_near_the_onderdonk_action) {
  // Onderdonk's formula for copper wire, I^2 t/A^2 = log10(1 + (Tm - Ta)/(234 + Ta))/33 with A in
  // circular mils (Stauffacher, General Electric Review 31 (1928) 326), gives 8.3359e16 A^2 s/m^4
  // from 25 C; the constants of annealed copper come within 2 %.
  const double at_25_celsius = 1.724e-8 * (1 + 5 / 254.5);
  const AdiabaticRod copper{8930, 385, at_25_celsius, 1 / 259.5};
  EXPECT_NEAR_RELATIVE(copper.action_to_rise(1083 - 25), 8.24603429831e16, digits);
  EXPECT_NEAR_RELATIVE(copper.action_to_rise(1083 - 25), 8.33589115717e16, 0.02);
}

TEST(JouleHeating, capacitor_fired_rod_as_tabulated) {
  const CapacitorFiredRod fired{1, 5, 2e-3, 5e-3, 5e-3};
  const struct {
    double V, t, rise;
  } rows[] = {
      {4.5, 4.69733922761e-4, 475}, {4.0, 1.52487588548e-3, 900}, {3.0, 5.79229184168e-3, 1600}};
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(fired.time_at_voltage(row.V), row.t, digits);
    EXPECT_NEAR_RELATIVE(fired.voltage_at_time(row.t), row.V, digits);
    EXPECT_NEAR_RELATIVE(fired.rise_at_voltage(row.V), row.rise, digits);
  }
  EXPECT_EQ(fired.voltage_at_time(0), 5);
}

TEST(JouleHeating, steady_rod_as_tabulated) {
  const SteadyRod steady{80, 8e-8, 2e-3, 0.2, 300};
  EXPECT_NEAR_RELATIVE(steady.temperature(1e-3), 1081.25, digits);
  EXPECT_NEAR_RELATIVE(steady.temperature(5e-4), 885.9375, digits);
  EXPECT_NEAR_RELATIVE(steady.temperature(2e-3), 300.0, digits);
}

TEST(JouleHeating, voltage_alone_decides_the_temperature) {
  const struct {
    double V, T0, peak, quarter, current;
  } rows[] = {
      {0.1, 300, 438.557873047, 408.35004103, 328.621379108},
      {0.2, 300, 706.634298663, 630.078585603, 455.189549504},
      {0.4, 300, 1314.27855807, 1148.04011086, 538.872298126},
      {0.3, 400, 1039.71009041, 922.359910274, 472.698332208},
  };
  const double rod_shape = 2e-3 / (constants::pi * 5e-4 * 5e-4);
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(kohlrausch_peak(row.T0, row.V), row.peak, digits);
    EXPECT_NEAR_RELATIVE(kohlrausch_temperature(row.T0, row.V, row.V / 4), row.quarter, digits);
    EXPECT_NEAR_RELATIVE(wiedemann_franz_current(80, rod_shape, row.V, row.T0), row.current,
                         digits);
  }
}

TEST(JouleHeating, small_voltage_gives_the_cold_resistance) {
  // R = rho_e Gamma with rho_e = L0 T0/k
  const double Gamma = 1e3, V = 1e-5;
  const double R = constants::lorenz * 300 / 80 * Gamma;
  EXPECT_NEAR_RELATIVE(wiedemann_franz_current(80, Gamma, V, 300), V / R, 1e-7);
}

}  // namespace
}  // namespace tabmelt::exact
