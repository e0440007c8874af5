// Two bodies that touch: perfect contact, a contact conductance, heat released between them.
//
// Exact: Carslaw & Jaeger, 2nd ed. (1959), sections 2.14-2.15 (numbers from memory) and the Laplace
// transform of the finite conductance, in tests/support/two_bodies.h.
// Catches: contact heat shared half and half whatever the metals, a contact resistance that sits in
// one cell only, an interface temperature weighted with conductivity instead of effusivity.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "tests/support/near.h"
#include "tests/support/order_of_accuracy.h"
#include "tests/support/two_bodies.h"
#include "tests/verification/heated_body.h"

namespace tabmelt {
namespace {

const exact::UniformSolid nickel{80, 8900, 500}, steel{50, 7850, 500}, copper{390, 8960, 390};
constexpr double perfect = 1e15;  // [W/m^2/K]

// Body 2 below z = 0, body 1 above it, `cells` each, finest where they touch.
mesh::AxisymmetricGrid touching(const exact::UniformSolid& first, const exact::UniformSolid& second,
                                double time, int cells) {
  const double deep2 = 8 * std::sqrt(second.diffusivity() * time);
  const double deep1 = 8 * std::sqrt(first.diffusivity() * time);
  const double ratio = std::pow(30.0, 1.0 / cells);
  std::vector<double> z;
  const auto lower = geometric_edges(deep2, cells, ratio);
  for (auto e = lower.rbegin(); e != lower.rend(); ++e) z.push_back(-*e);
  z.back() = 0;
  for (const double e : geometric_edges(deep1, cells, ratio))
    if (e > 0) z.push_back(e);
  const double r = 1e-3;
  return {{0, r}, z, {{"second", 2, -deep2, 0, r, r}, {"first", 1, 0, deep1, r, r}}};
}

struct Touch {
  double flux = 0;               // [W/m^2] from first to second
  double first = 0, second = 0;  // [K] surfaces
  double mean_square = 0;        // [K] against the exact field
};

Touch touch(const exact::TouchingBodies& bodies, double time, int cells, int steps) {
  HeatedBody body(touching(bodies.first, bodies.second, time, cells),
                  {constant_metal(bodies.first), constant_metal(bodies.second)}, bodies.T1);
  body.start_from([&](double, double z) { return z > 0 ? bodies.T1 : bodies.T2; });
  const double h = std::isfinite(bodies.conductance) ? bodies.conductance : perfect;
  body.touch(0, h);
  body.march(graded_moments(time, steps, 3));
  const std::size_t below = body.grid().row_edge(0) - 1;
  const double half1 = 0.5 * body.grid().dz(below + 1) / bodies.first.conductivity;
  const double half2 = 0.5 * body.grid().dz(below) / bodies.second.conductivity;
  Touch t;
  t.flux = (body.T_at(0, below + 1) - body.T_at(0, below)) / (half1 + 1 / h + half2);
  t.first = body.T_at(0, below + 1) - t.flux * half1;
  t.second = body.T_at(0, below) + t.flux * half2;
  t.mean_square = body.mean_square_error([&](double, double z) {
    return z > 0 ? bodies.first_temperature(z, time) : bodies.second_temperature(-z, time);
  });
  return t;
}

TEST(TouchingBodies, contact_conductance_lets_the_exact_flux_through) {
  for (const double h : {2e4, 5e5}) {
    for (const double time : {1e-4, 5e-3}) {
      for (const exact::UniformSolid& second : {steel, copper}) {
        const exact::TouchingBodies bodies{nickel, second, 1200, 300, h};
        const Touch t = touch(bodies, time, 80, 100);
        EXPECT_NEAR_RELATIVE(t.flux, bodies.flux(time), 1e-3);
        // Relative to the temperature difference.
        EXPECT_NEAR(t.first, bodies.first_temperature(0, time), 0.9);
        EXPECT_NEAR(t.second, bodies.second_temperature(0, time), 0.9);
      }
    }
  }
}

TEST(TouchingBodies, perfect_contact_settles_by_effusivity) {
  for (const exact::UniformSolid& first : {nickel, copper}) {
    const exact::TouchingBodies bodies{first, steel, 1200, 300,
                                       std::numeric_limits<double>::infinity()};
    for (const double time : {1e-4, 5e-3}) {
      const Touch t = touch(bodies, time, 80, 100);
      EXPECT_NEAR(t.first, bodies.perfect_contact_temperature(), 0.9);
      EXPECT_NEAR(t.second, t.first, 1e-3);
    }
  }
  EXPECT_NEAR_RELATIVE(
      (exact::TouchingBodies{nickel, steel, 1200, 300, 1}.perfect_contact_temperature()),
      816.507707261, 1e-9);
}

TEST(TouchingBodies, second_order_with_and_without_a_conductance) {
  for (const double h : {5e4, std::numeric_limits<double>::infinity()}) {
    const exact::TouchingBodies bodies{nickel, steel, 1200, 300, h};
    const auto study = order_in_cells({16, 32, 64, 128}, [&](int cells) {
      return touch(bodies, 1e-3, cells, 8 * cells).mean_square;
    });
    EXPECT_TRUE(order_within(study, 2, 0.15));
  }
}

// Heat q released in a perfect contact: both faces rise together by 2 q sqrt(t/pi)/(e1 + e2), and
// each body keeps the share of its effusivity, 0.5739 of nickel on steel.
TEST(TouchingBodies, heat_between_them_is_shared_by_effusivity) {
  const double q = 1e8;
  for (const double time : {1e-3, 4e-3}) {
    HeatedBody body(touching(nickel, steel, time, 80),
                    {constant_metal(nickel), constant_metal(steel)}, 300);
    body.touch(0, perfect, q);
    body.march(graded_moments(time, 200, 3));
    const auto& grid = body.grid();
    const std::size_t below = grid.row_edge(0) - 1;
    // The surface seen from either side, with that side's share of the flux.
    const double share = exact::plane_source_share(nickel, steel);
    EXPECT_NEAR(share, 0.573897452512, 1e-10);
    const double rise = exact::plane_source_rise(nickel, steel, q, time);
    EXPECT_NEAR_RELATIVE(
        body.T_at(0, below + 1) - 300 + share * q * grid.dz(below + 1) / (2 * nickel.conductivity),
        rise, 1e-3);
    EXPECT_NEAR_RELATIVE(
        body.T_at(0, below) - 300 + (1 - share) * q * grid.dz(below) / (2 * steel.conductivity),
        rise, 1e-3);
    double into_first = 0, all = 0;
    for (std::size_t j = 0; j < grid.nz(); ++j) {
      const std::size_t c = grid.index(0, j);
      const double stored =
          grid.volume(c) * (body.H()[static_cast<Eigen::Index>(c)] - body.law(c).at(300));
      all += stored;
      if (j > below) into_first += stored;
    }
    EXPECT_NEAR_RELATIVE(all, q * time * grid.ring_area_inside(0, 1), 1e-9);
    EXPECT_NEAR_RELATIVE(into_first / all, share, 1e-3);
  }
}

// With a resistance between the surfaces each surface gets half of the heat: at first, before any
// of it has crossed, both bodies take up the same.
TEST(TouchingBodies, poor_contact_gives_each_surface_half) {
  const double q = 1e8, time = 1e-3;
  HeatedBody body(touching(nickel, steel, time, 40),
                  {constant_metal(nickel), constant_metal(steel)}, 300);
  body.touch(0, 1e-3, q);
  body.march(graded_moments(time, 50, 3));
  const auto& grid = body.grid();
  double upper = 0;
  for (std::size_t j = grid.row_edge(0); j < grid.nz(); ++j) {
    const std::size_t c = grid.index(0, j);
    upper += grid.volume(c) * (body.H()[static_cast<Eigen::Index>(c)] - body.law(c).at(300));
  }
  EXPECT_NEAR_RELATIVE(upper, 0.5 * q * time * grid.ring_area_inside(0, 1), 1e-6);
}

}  // namespace
}  // namespace tabmelt
