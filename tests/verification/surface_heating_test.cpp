// Half-space under a surface flux, a pulse of it, a surface step and convection.
//
// Exact: Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), sections 2.5, 2.7 and 2.9
// (numbers from memory), in tests/support/half_space.h.
// Catches: a flux that ends up in the wrong half cell, a conductance in series at a held surface
// forgotten, a wrong sum of the two stages in the heat conducted out.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/half_space.h"
#include "tests/support/near.h"
#include "tests/support/order_of_accuracy.h"
#include "tests/verification/heated_body.h"

namespace tabmelt {
namespace {

const exact::UniformSolid steel{50, 7850, 500};  // round numbers
constexpr double start = 300;

// Deep enough that the far end is not felt (8 diffusion lengths).
double depth(double time) { return 8 * std::sqrt(steel.diffusivity() * time); }

struct UnderFlux {
  double surface = 0, below = 0;  // [K] rise at the surface and in the cell at 0.2 mm
  double below_exact = 0;
};

// Flux q into the lower face until `off`, then none.
UnderFlux under_flux(double q, double off, double time, int cells, int steps) {
  HeatedBody body(column(geometric_edges(depth(time), cells, std::pow(30.0, 1.0 / cells))),
                  {constant_metal(steel)}, start);
  std::vector<double> moments = graded_moments(std::min(off, time), steps, 3);
  if (time > off)
    for (const double t : graded_moments(time - off, steps, 3)) moments.push_back(off + t);
  body.march(moments, [&](double t, Field& heat) {
    if (t < off) heat[0] += q;
  });
  UnderFlux u;
  const double dz = body.grid().dz(0);
  u.surface = body.T_at(0, 0) - start + (time < off ? q * dz / (2 * steel.conductivity) : 0);
  const std::size_t j = body.grid().row_at(2e-4);
  u.below = body.T_at(0, j) - start;
  const double z = body.grid().z_centre(j);
  u.below_exact = time > off ? exact::half_space::rise_under_pulse(steel, q, off, z, time)
                             : exact::half_space::rise_under_flux(steel, q, z, time);
  return u;
}

TEST(SurfaceHeating, constant_flux_warms_like_the_root_of_time) {
  for (const double time : {1e-3, 5e-3}) {
    const UnderFlux u = under_flux(1e8, 1, time, 80, 100);
    EXPECT_NEAR_RELATIVE(u.surface, exact::half_space::rise_under_flux(steel, 1e8, 0, time), 1e-3);
    EXPECT_NEAR_RELATIVE(u.below, u.below_exact, 1e-3);
  }
}

TEST(SurfaceHeating, pulse_cools_after_its_end) {
  for (const double time : {2.5e-3, 4e-3, 1e-2}) {
    const UnderFlux u = under_flux(1e8, 2e-3, time, 80, 100);
    EXPECT_NEAR_RELATIVE(u.below, u.below_exact, 1e-3);
  }
}

TEST(SurfaceHeating, flux_is_second_order_in_space) {
  const double time = 5e-3, exact = exact::half_space::rise_under_flux(steel, 1e8, 0, time);
  const auto study = order_in_cells({20, 40, 80, 160}, [&](int cells) {
    return std::abs(under_flux(1e8, 1, time, cells, 800).surface - exact);
  });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

// A sudden flux is no smooth start, yet with steps that grow with time the order is the method's.
TEST(SurfaceHeating, flux_is_second_order_in_time) {
  const double time = 5e-3, finest = under_flux(1e8, 1, time, 100, 2560).surface;
  const auto study = order_in_cells({10, 20, 40, 80}, [&](int steps) {
    return std::abs(under_flux(1e8, 1, time, 100, steps).surface - finest);
  });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

TEST(SurfaceHeating, surface_step_takes_up_the_heat_it_should) {
  for (const double time : {2e-4, 2e-3}) {
    HeatedBody body(column(geometric_edges(depth(time), 160, std::pow(60.0, 1.0 / 160))),
                    {constant_metal(steel)}, start);
    body.hold(HeatedBody::Side::bottom, start + 1000);
    body.march(graded_moments(time, 400, 3));
    EXPECT_NEAR_RELATIVE(body.heat_taken(), exact::half_space::heat_under_step(steel, 1000, time),
                         1e-3);
    EXPECT_LE(body.mean_square_error([&](double, double z) {
      return start + exact::half_space::rise_under_step(steel, 1000, z, time);
    }),
              0.2);
  }
}

TEST(SurfaceHeating, convection_is_in_series_with_the_half_cell) {
  for (const double time : {2e-4, 2e-3}) {
    HeatedBody body(column(geometric_edges(depth(time), 160, std::pow(60.0, 1.0 / 160))),
                    {constant_metal(steel)}, start);
    const double h = 2e5;
    body.hold(HeatedBody::Side::bottom, start + 1000, h);
    body.march(graded_moments(time, 400, 3));
    // Surface: where the flux through h and through the half cell agree.
    const double half = 2 * steel.conductivity / body.grid().dz(0);
    const double surface = (h * (start + 1000) + half * body.T_at(0, 0)) / (h + half) - start;
    EXPECT_NEAR_RELATIVE(surface, exact::half_space::rise_under_convection(steel, h, 1000, 0, time),
                         1e-3);
    const std::size_t j = body.grid().row_at(1e-4);
    EXPECT_NEAR_RELATIVE(
        body.T_at(0, j) - start,
        exact::half_space::rise_under_convection(steel, h, 1000, body.grid().z_centre(j), time),
        2e-3);
  }
}

}  // namespace
}  // namespace tabmelt
