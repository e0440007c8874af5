// Half-space solutions against numbers evaluated independently of the closed forms (numerical
// Laplace inversion by Talbot's method, quadrature over time or depth), 10 digits or more.
// Catches: a wrong argument of ierfc or erfc, a lost factor 2, a pulse that does not end.
#include "tests/support/half_space.h"

#include <gtest/gtest.h>

#include "tests/support/near.h"

namespace tabmelt::exact {
namespace {

const UniformSolid steel{50, 7850, 500};  // round numbers
constexpr double digits = 1e-10;

TEST(HalfSpace, flux_heats_as_tabulated) {
  const struct {
    double t, x, rise;
  } rows[] = {
      {1.0e-3, 0.0, 254.712481318},    {1.0e-3, 5.0e-5, 167.108118801},
      {1.0e-3, 2.0e-4, 32.096575536},  {1.0e-3, 5.0e-4, 0.151622721713},
      {5.0e-3, 0.0, 569.554422946},    {5.0e-3, 5.0e-5, 475.134053687},
      {5.0e-3, 2.0e-4, 256.706102792}, {5.0e-3, 5.0e-4, 52.2468629782},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(half_space::rise_under_flux(steel, 1e8, row.x, row.t), row.rise, digits);
  }
}

TEST(HalfSpace, pulse_heats_and_ends_as_tabulated) {
  const struct {
    double t, x, rise;
  } rows[] = {
      {2.5e-3, 0.0, 222.626871927}, {2.5e-3, 2.0e-4, 116.056939845},
      {4.0e-3, 0.0, 149.207117051}, {4.0e-3, 2.0e-4, 113.221104957},
      {0.01, 0.0, 85.0358982669},   {0.01, 2.0e-4, 77.8920447152},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(half_space::rise_under_pulse(steel, 1e8, 2e-3, row.x, row.t), row.rise,
                         digits);
  }
  EXPECT_EQ(half_space::rise_under_pulse(steel, 1e8, 2e-3, 1e-4, 1e-3),
            half_space::rise_under_flux(steel, 1e8, 1e-4, 1e-3));
}

TEST(HalfSpace, temperature_step_as_tabulated) {
  const struct {
    double t, x, rise;
  } rows[] = {
      {2.0e-4, 5.0e-5, 483.648638676},
      {2.0e-4, 2.0e-4, 5.08207072573},
      {2.0e-3, 5.0e-5, 824.702697237},
      {2.0e-3, 2.0e-4, 375.616310807},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(half_space::rise_under_step(steel, 1000, row.x, row.t), row.rise, digits);
  }
  const struct {
    double t, flux;
  } fluxes[] = {
      {2.0e-4, 5.58875277515e+8},
      {2.0e-3, 1.76731880491e+8},
  };
  for (const auto& row : fluxes) {
    EXPECT_NEAR_RELATIVE(half_space::flux_under_step(steel, 1000, row.t), row.flux, digits);
  }
  const struct {
    double t, heat;
  } heats[] = {
      {2.0e-4, 223550.111006},
      {2.0e-3, 706927.521963},
  };
  for (const auto& row : heats) {
    EXPECT_NEAR_RELATIVE(half_space::heat_under_step(steel, 1000, row.t), row.heat, digits);
  }
}

TEST(HalfSpace, convection_as_tabulated) {
  const struct {
    double t, x, rise;
  } rows[] = {
      {2.0e-4, 0.0, 192.508642219},
      {2.0e-4, 1.0e-4, 18.7323166293},
      {2.0e-3, 0.0, 448.958234561},
      {2.0e-3, 1.0e-4, 257.852538304},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(half_space::rise_under_convection(steel, 2e5, 1000, row.x, row.t),
                         row.rise, digits);
  }
}

TEST(HalfSpace, strong_convection_becomes_a_temperature_step) {
  // erfcx(v) -> 1/(sqrt(pi) v): at the surface the rise falls short by k/(h sqrt(pi alpha t)).
  const double h = 1e12, t = 1e-3;
  const double shortfall = 50 / (h * std::sqrt(3.14159265358979 * steel.diffusivity() * t));
  EXPECT_NEAR(half_space::rise_under_convection(steel, h, 1, 0, t), 1 - shortfall, 1e-12);
}

}  // namespace
}  // namespace tabmelt::exact
