// Slab solutions against independent evaluation: image series (and quadrature over them) where
// the slab is evaluated by eigenfunctions.
// Catches: a wrong eigenvalue or sign in the series, a pulse that does not end.
#include "tests/support/slab.h"

#include <gtest/gtest.h>

#include "tests/support/half_space.h"
#include "tests/support/near.h"

namespace tabmelt::exact {
namespace {

const UniformSolid steel{50, 7850, 500};  // round numbers
constexpr double digits = 1e-10;

TEST(Slab, quenched_slab_as_tabulated) {
  const QuenchedSlab slab{steel, 1.5e-4};
  const struct {
    double t, x, theta;
  } rows[] = {
      {1.0e-4, 0.0, 0.994077690239},     {1.0e-4, 7.5e-5, 0.862678455197},
      {1.0e-4, 1.2e-4, 0.447720787121},  {5.0e-4, 0.0, 0.632440116707},
      {5.0e-4, 7.5e-5, 0.44831997886},   {5.0e-4, 1.2e-4, 0.196318046276},
      {2.0e-3, 0.0, 0.0778961508988},    {2.0e-3, 7.5e-5, 0.055080896536},
      {2.0e-3, 1.2e-4, 0.0240712344298},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(slab.theta(row.x, row.t), row.theta, digits);
  }
  const struct {
    double t, theta;
  } means[] = {
      {1.0e-4, 0.731509470487},
      {5.0e-4, 0.403294491184},
      {2.0e-3, 0.0495902298578},
  };
  for (const auto& row : means) {
    EXPECT_NEAR_RELATIVE(slab.mean_theta(row.t), row.theta, digits);
  }
}

TEST(Slab, flash_heated_wall_as_tabulated) {
  const FlashHeatedWall wall{steel, 2.5e-4, 2e5};
  const struct {
    double t, rear;
  } rears[] = {
      {2e-4, 2.47239921565},
      {5e-4, 61.9750050014},
      {1e-3, 149.422046181},
      {3e-3, 202.845882559},
  };
  for (const auto& row : rears) {
    EXPECT_NEAR_RELATIVE(wall.rise(2.5e-4, row.t), row.rear, digits);
  }
  const struct {
    double t, front;
  } fronts[] = {
      {2e-4, 569.554422971},
      {5e-4, 360.257298639},
      {1e-3, 258.482322865},
      {3e-3, 204.79742957},
  };
  for (const auto& row : fronts) {
    EXPECT_NEAR_RELATIVE(wall.rise(0, row.t), row.front, digits);
  }
  const double scale = 2.5e-4 * 2.5e-4 / steel.diffusivity();
  EXPECT_NEAR_RELATIVE(wall.half_rise_time() / scale, 0.138785297043, digits);
}

TEST(Slab, images_and_series_of_the_flash_meet) {
  // The wall switches series at alpha t/L^2 = 0.2; nothing must jump there.
  const FlashHeatedWall wall{steel, 2.5e-4, 2e5};
  const double t = 0.2 * 2.5e-4 * 2.5e-4 / steel.diffusivity();
  for (const double x : {0.0, 1e-4, 2.5e-4}) {
    EXPECT_NEAR_RELATIVE(wall.rise(x, t * (1 - 1e-13)), wall.rise(x, t * (1 + 1e-13)), 1e-11);
  }
}

TEST(Slab, pulse_heated_slab_as_tabulated) {
  const PulseHeatedSlab slab{steel, 2.5e-4, 1e8, 2e-3};
  const struct {
    double t, x, rise;
  } rows[] = {
      {1e-3, 0, 255.015726798}, {1e-3, 1.25e-4, 81.0856055202}, {1e-3, 2.5e-4, 32.12304093},
      {2e-3, 0, 368.675257846}, {2e-3, 1.25e-4, 182.988325315}, {2e-3, 2.5e-4, 122.301382395},
      {3e-3, 0, 217.140891996}, {3e-3, 1.25e-4, 203.813545224}, {3e-3, 2.5e-4, 190.51864176},
      {6e-3, 0, 203.853518816}, {6e-3, 1.25e-4, 203.821656051}, {6e-3, 2.5e-4, 203.789793286},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(slab.rise(row.x, row.t), row.rise, digits);
  }
}

TEST(Slab, short_pulse_sees_a_half_space) {
  const PulseHeatedSlab slab{steel, 2.5e-4, 1e8, 2e-3};
  EXPECT_NEAR_RELATIVE(slab.rise(0, 1e-4), half_space::rise_under_flux(steel, 1e8, 0, 1e-4), 1e-9);
}

}  // namespace
}  // namespace tabmelt::exact
