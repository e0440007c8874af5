// A hot wall melts its way into a cold metal (Neumann's problem with a melting range).
//
// Exact: three regions (liquid, mush, solid) with an error function each, tests/support/
// melting_front.h; Carslaw & Jaeger, 2nd ed. (1959), section 11.2, and Alexiades & Solomon,
// Mathematical Modeling of Melting and Freezing Processes (1993), chapter 2 (numbers from memory).
// The sharp front is not what an enthalpy method with a melting range solves.
// Catches: latent heat lost or counted twice as the front crosses cells, a front that stalls.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/melting_front.h"
#include "tests/support/near.h"
#include "tests/support/order_of_accuracy.h"
#include "tests/verification/heated_body.h"

namespace tabmelt {
namespace {

constexpr double wall = 2500, initial = 300, solidus = 1718, liquidus = 1738;

// Round numbers near nickel.
exact::MeltingMetal nickel(double k_liquid, double k_solid) {
  return {8900, k_liquid, k_solid, 730, 600, 298000};
}

Material as_material(const exact::MeltingMetal& metal, double from, double to) {
  Material m;
  m.name = "melting metal";
  m.density = metal.density;
  m.specific_heat = Curve::constant(metal.specific_heat_solid);
  m.specific_heat_liquid = Curve::constant(metal.specific_heat_liquid);
  m.thermal_conductivity = Curve::constant(metal.conductivity_solid);
  m.thermal_conductivity_liquid = Curve::constant(metal.conductivity_liquid);
  m.melting = Melting{from, to, metal.latent_heat};
  return m;
}

struct Molten {
  double heat = 0;   // [J/m^2] taken in at the wall
  double depth = 0;  // [m] integral of the liquid fraction
  double error = 0;  // [K] root mean square against the exact profile
};

Molten melted(const exact::MeltingMetal& metal, double from, double to,
              const exact::MushyFront& front, double time, int cells, int steps) {
  const double deep = 8 * std::sqrt(metal.diffusivity_solid() * time);
  HeatedBody body(column(geometric_edges(deep, cells, std::pow(20.0, 1.0 / cells))),
                  {as_material(metal, from, to)}, initial);
  body.hold(HeatedBody::Side::bottom, wall);
  body.march(graded_moments(time, steps, 2));
  Molten m;
  m.heat = body.heat_taken();
  for (std::size_t j = 0; j < body.grid().nz(); ++j)
    m.depth += body.law(j).liquid_fraction(body.T_at(0, j)) * body.grid().dz(j);
  m.error = body.mean_square_error([&](double, double z) { return front.temperature(z, time); });
  return m;
}

TEST(Melting, heat_and_depth_follow_the_three_region_solution) {
  const auto metal = nickel(65, 65);
  for (const auto& [from, to] : {std::pair{solidus, liquidus}, std::pair{1678.0, 1778.0}}) {
    const exact::MushyFront front(metal, 65, from, to, wall, initial);
    for (const double time : {1e-3, 1e-2}) {
      const Molten m = melted(metal, from, to, front, time, 200, 200);
      EXPECT_NEAR_RELATIVE(m.heat, front.heat(time), 1e-3);
      EXPECT_NEAR_RELATIVE(m.depth, front.melted_depth(time), 1e-2);
      EXPECT_LE(m.error, 1e-3 * (wall - initial));
    }
  }
}

// Heat taken in is smooth in the place of the front within its cell but not blind to it: second
// order, in a wider band than elsewhere. The profile itself jumps with that place, so its error is
// only asked to fall faster than first order from the coarsest grid to the finest.
TEST(Melting, heat_is_second_order_and_the_profile_better_than_first) {
  const auto metal = nickel(65, 65);
  const exact::MushyFront front(metal, 65, solidus, liquidus, wall, initial);
  const double time = 1e-2;
  std::vector<double> profile;
  const auto study = order_in_cells({50, 100, 200, 400}, [&](int cells) {
    const Molten m = melted(metal, solidus, liquidus, front, time, cells, 2 * cells);
    profile.push_back(m.error);
    return std::abs(m.heat - front.heat(time));
  });
  EXPECT_TRUE(order_within(study, 2, 0.3));
  EXPECT_LT(profile.back(), profile.front() / 8);
}

// Unlike conductivities of liquid and solid: the material blends them over the melting range, the
// exact solution has one mean value there.
TEST(Melting, unlike_conductivities_blend_over_the_melting_range) {
  const auto metal = nickel(60, 75);
  const exact::MushyFront front(metal, 67.5, solidus, liquidus, wall, initial);
  EXPECT_NEAR_RELATIVE(front.eta_liquidus(), 1.83563268348e-3, 1e-9);
  const double time = 1e-2;
  const Molten m = melted(metal, solidus, liquidus, front, time, 200, 400);
  EXPECT_NEAR_RELATIVE(m.heat, front.heat(time), 1e-3);
  EXPECT_NEAR_RELATIVE(m.depth, front.melted_depth(time), 1e-2);
  EXPECT_LE(m.error, 1e-3 * (wall - initial));
}

}  // namespace
}  // namespace tabmelt
