// Bodies in contact against independent evaluation: Talbot inversion of the transforms, a nodal
// solve for the layers.
// Catches: the two effusivities swapped, the exponential of the contact term overflowing.
#include "tests/support/two_bodies.h"

#include <gtest/gtest.h>

#include <limits>

#include "tests/support/near.h"

namespace tabmelt::exact {
namespace {

// round numbers, not data
const UniformSolid nickel{80, 8900, 500};
const UniformSolid steel{50, 7850, 500};
const UniformSolid copper{390, 8960, 390};
constexpr double digits = 1e-10;

struct FluxRow {
  double h, t, flux;
};
struct Row {
  double h, t, x, temperature;
};

TEST(TwoBodies, layered_wall_as_tabulated) {
  const LayeredWall wall{2e-4, 80, 3e-4, 50, 1e5, 800, 300};
  EXPECT_NEAR_RELATIVE(wall.flux(), 2.7027027027e7, digits);
  EXPECT_NEAR_RELATIVE(wall.first_face_temperature(), 732.432432432, digits);
  EXPECT_NEAR_RELATIVE(wall.second_face_temperature(), 462.162162162, digits);
}

TEST(TwoBodies, nickel_on_steel_as_tabulated) {
  const FluxRow fluxes[] = {
      {20000.0, 1.0e-4, 1.75056700618e+7},
      {20000.0, 5.0e-3, 1.49182903652e+7},
      {500000.0, 1.0e-4, 2.51167746234e+8},
      {500000.0, 5.0e-3, 5.63430442099e+7},
  };
  for (const auto& row : fluxes) {
    const TouchingBodies bodies{nickel, steel, 1200, 300, row.h};
    EXPECT_NEAR_RELATIVE(bodies.flux(row.t), row.flux, digits);
  }
  const Row first[] = {
      {20000.0, 1.0e-4, 0.0, 1189.4682377},   {20000.0, 1.0e-4, 1.0e-4, 1199.4732556},
      {20000.0, 5.0e-3, 0.0, 1134.3437837},   {20000.0, 5.0e-3, 1.0e-4, 1151.40037597},
      {500000.0, 1.0e-4, 0.0, 1030.5541403},  {500000.0, 1.0e-4, 1.0e-4, 1190.00199986},
      {500000.0, 5.0e-3, 0.0, 864.523536603}, {500000.0, 5.0e-3, 1.0e-4, 933.077269271},
  };
  for (const auto& row : first) {
    const TouchingBodies bodies{nickel, steel, 1200, 300, row.h};
    EXPECT_NEAR_RELATIVE(bodies.first_temperature(row.x, row.t), row.temperature, digits);
  }
  const Row second[] = {
      {20000.0, 1.0e-4, 0.0, 314.184734611},  {20000.0, 1.0e-4, 1.0e-4, 300.320645468},
      {20000.0, 5.0e-3, 0.0, 388.429265439},  {20000.0, 5.0e-3, 1.0e-4, 361.620866698},
      {500000.0, 1.0e-4, 0.0, 528.218647827}, {500000.0, 1.0e-4, 1.0e-4, 306.212343783},
      {500000.0, 5.0e-3, 0.0, 751.837448183}, {500000.0, 5.0e-3, 1.0e-4, 642.918616664},
  };
  for (const auto& row : second) {
    const TouchingBodies bodies{nickel, steel, 1200, 300, row.h};
    EXPECT_NEAR_RELATIVE(bodies.second_temperature(row.x, row.t), row.temperature, digits);
  }
}

TEST(TwoBodies, copper_on_nickel_as_tabulated) {
  const FluxRow fluxes[] = {
      {20000.0, 1.0e-4, 1.76792317372e+7},
      {20000.0, 5.0e-3, 1.59121803753e+7},
      {500000.0, 1.0e-4, 3.01737146845e+8},
      {500000.0, 5.0e-3, 8.48851465113e+7},
  };
  for (const auto& row : fluxes) {
    const TouchingBodies bodies{copper, nickel, 1200, 300, row.h};
    EXPECT_NEAR_RELATIVE(bodies.flux(row.t), row.flux, digits);
  }
  const Row first[] = {
      {20000.0, 1.0e-4, 0.0, 1194.57531647},  {20000.0, 1.0e-4, 1.0e-4, 1197.94848941},
      {20000.0, 5.0e-3, 0.0, 1164.69176649},  {20000.0, 5.0e-3, 1.0e-4, 1168.62785661},
      {500000.0, 1.0e-4, 0.0, 1099.70590604}, {500000.0, 1.0e-4, 1.0e-4, 1159.86890013},
      {500000.0, 5.0e-3, 0.0, 953.013903051}, {500000.0, 5.0e-3, 1.0e-4, 974.518304161},
  };
  for (const auto& row : first) {
    const TouchingBodies bodies{copper, nickel, 1200, 300, row.h};
    EXPECT_NEAR_RELATIVE(bodies.first_temperature(row.x, row.t), row.temperature, digits);
  }
  const Row second[] = {
      {20000.0, 1.0e-4, 0.0, 310.613729614},  {20000.0, 1.0e-4, 1.0e-4, 300.529181644},
      {20000.0, 5.0e-3, 0.0, 369.082747721},  {20000.0, 5.0e-3, 1.0e-4, 350.94615651},
      {500000.0, 1.0e-4, 0.0, 496.231612346}, {500000.0, 1.0e-4, 1.0e-4, 310.991086325},
      {500000.0, 5.0e-3, 0.0, 783.243610028}, {500000.0, 5.0e-3, 1.0e-4, 680.803318177},
  };
  for (const auto& row : second) {
    const TouchingBodies bodies{copper, nickel, 1200, 300, row.h};
    EXPECT_NEAR_RELATIVE(bodies.second_temperature(row.x, row.t), row.temperature, digits);
  }
}

TEST(TwoBodies, perfect_contact_settles_at_the_effusivity_mean) {
  const double infinite = std::numeric_limits<double>::infinity();
  const TouchingBodies warm{nickel, steel, 1200, 300, infinite};
  EXPECT_NEAR_RELATIVE(warm.perfect_contact_temperature(), 816.507707261, digits);
  const TouchingBodies hot{copper, nickel, 1200, 300, infinite};
  EXPECT_NEAR_RELATIVE(hot.perfect_contact_temperature(), 895.592379863, digits);
  EXPECT_NEAR_RELATIVE(warm.first_temperature(0, 1e-3), 816.507707261, digits);
  EXPECT_NEAR_RELATIVE(warm.second_temperature(0, 1e-3), 816.507707261, digits);
}

TEST(TwoBodies, jump_over_the_contact_carries_the_flux) {
  const TouchingBodies bodies{nickel, steel, 1200, 300, 5e5};
  for (const double t : {1e-6, 1e-4, 1e-2}) {
    const double jump = bodies.first_temperature(0, t) - bodies.second_temperature(0, t);
    EXPECT_NEAR_RELATIVE(5e5 * jump, bodies.flux(t), 1e-11);
  }
}

TEST(TwoBodies, plane_source_as_tabulated) {
  EXPECT_NEAR_RELATIVE(plane_source_rise(nickel, steel, 1e8, 1e-3), 108.533637167, digits);
  EXPECT_NEAR_RELATIVE(plane_source_rise(nickel, steel, 1e8, 4e-3), 217.067274334, digits);
  EXPECT_NEAR_RELATIVE(plane_source_share(nickel, steel), 0.573897452512, digits);
}

}  // namespace
}  // namespace tabmelt::exact
