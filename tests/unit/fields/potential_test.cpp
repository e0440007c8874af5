// The current field on small bodies whose resistance is known in closed form.
// Catches: heat that does not add up to I U, a current lost at a rim, a contact of the wrong area,
// the boundary half cell forgotten.
#include "solver/electric_potential/potential.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/columns.h"
#include "tests/support/near.h"

namespace tabmelt {
namespace {

using Index = Eigen::Index;
using mesh::AxisymmetricGrid;
using std::numbers::pi;

std::vector<double> random_edges(double from, double to, int cells, std::mt19937& random) {
  std::uniform_real_distribution<double> size(0.2, 1.0);
  std::vector<double> edges{0};
  for (int n = 0; n < cells; ++n) edges.push_back(edges.back() + size(random));
  const double scale = (to - from) / edges.back();
  for (double& e : edges) e = from + e * scale;
  edges.back() = to;
  return edges;
}

void append(std::vector<double>& edges, const std::vector<double>& more) {
  edges.insert(edges.end(), more.begin() + 1, more.end());
}

// Electrode on strip on can, as in a weld; random meshes.
struct Weld {
  double tip = 0.75e-3, strip = 0.15e-3, can = 0.3e-3, rod = 2e-3;
  double strip_rim = 4e-3, can_rim = 5e-3;
  AxisymmetricGrid grid;
  std::vector<ContactPlane> planes;
  std::vector<GroundedRim> rims;
  Field sigma;
  std::vector<std::vector<double>> g;

  Weld(unsigned seed, double sigma_rod, double sigma_strip, double sigma_can, double g_tip,
       double g_faying, bool slit = false) {
    std::mt19937 random(seed);
    std::vector<double> r = random_edges(0, tip, 8, random);
    append(r, random_edges(tip, strip_rim, 9, random));
    append(r, random_edges(strip_rim, can_rim, 4, random));
    std::vector<double> z = random_edges(-can, 0, 5, random);
    append(z, random_edges(0, strip, 4, random));
    append(z, random_edges(strip, strip + rod, 6, random));
    grid = AxisymmetricGrid(r, z,
                            {{"can", 3, -can, 0, can_rim, can_rim},
                             {"strip", 2, 0, strip, strip_rim, strip_rim},
                             {"rod", 1, strip, strip + rod, tip, tip}},
                            tip * (1 + 1e-6));
    sigma.setZero(static_cast<Index>(grid.cells()));
    for (std::size_t c = 0; c < grid.cells(); ++c) {
      const double of[] = {0, sigma_rod, sigma_strip, sigma_can};
      sigma[static_cast<Index>(c)] = of[grid.region(c)];
    }
    for (const double height : {strip, 0.0}) {
      ContactPlane plane;
      plane.below = grid.row_edge(height) - 1;
      plane.columns = test::column_edge(grid, tip);
      for (std::size_t i = 0; i < plane.columns; ++i) {
        plane.area.push_back(grid.ring_area_inside(i, tip));
        plane.open_area.push_back(grid.ring_area_inside(i, 1));
      }
      planes.push_back(plane);
    }
    g = {std::vector<double>(planes[0].columns, g_tip),
         std::vector<double>(planes[1].columns, g_faying)};
    rims.push_back({0, grid.row_edge(0), test::column_edge(grid, can_rim)});
    if (!slit)
      rims.push_back({grid.row_edge(0), grid.row_edge(strip) - grid.row_edge(0),
                      test::column_edge(grid, strip_rim)});
  }
  Potential potential() const { return {grid, {0, grid.nz()}, planes, rims}; }
};

TEST(Potential, heat_equals_resistance_and_every_ampere_is_accounted_for) {
  for (unsigned seed = 1; seed <= 6; ++seed) {
    const Weld weld(seed, 5e7, 1.4e7, 7e6, 5e8, 1.2e8);
    Potential potential = weld.potential();
    const PotentialOutcome out = potential.solve(weld.sigma, weld.g, 1e-12);
    ASSERT_TRUE(out.converged);
    const double heat_total = potential.find_heat();
    EXPECT_NEAR_RELATIVE(heat_total, out.resistance, 1e-9);
    double tip = 0, faying = 0, contact_heat = 0;
    for (const double i : potential.contacts()[0].current) tip += i;
    for (const double i : potential.contacts()[1].current) faying += i;
    for (const ContactCurrent& c : potential.contacts())
      for (const double q : c.heat) contact_heat += q;
    EXPECT_NEAR(tip, 1, 1e-9);
    EXPECT_NEAR(faying, out.base_share, 1e-12);
    EXPECT_GT(out.base_share, 0.01);
    EXPECT_LT(out.base_share, 0.99);
    EXPECT_NEAR_RELATIVE(potential.bulk_heat().sum() + contact_heat, heat_total, 1e-12);
    EXPECT_GE(potential.bulk_heat().minCoeff(), 0);
  }
}

// Random conductivities cell by cell: Tellegen's theorem knows nothing of the material.
TEST(Potential, heat_equals_resistance_for_scattered_conductivities) {
  std::mt19937 random(41);
  std::uniform_real_distribution<double> exponent(-1, 1);
  for (unsigned seed = 11; seed <= 16; ++seed) {
    Weld weld(seed, 5e7, 1.4e7, 7e6, 5e8, 1.2e8);
    for (double& s : weld.sigma) s *= std::pow(10, exponent(random));
    for (auto& plane : weld.g)
      for (double& face : plane) face *= std::pow(10, exponent(random));
    Potential potential = weld.potential();
    const PotentialOutcome out = potential.solve(weld.sigma, weld.g, 1e-12);
    ASSERT_TRUE(out.converged);
    EXPECT_NEAR_RELATIVE(potential.find_heat(), out.resistance, 1e-9);
  }
}

TEST(Potential, current_of_a_horizontal_cut_of_the_rod_is_one_ampere) {
  const Weld weld(3, 5e7, 1.4e7, 7e6, 5e8, 1.2e8);
  Potential potential = weld.potential();
  ASSERT_TRUE(potential.solve(weld.sigma, weld.g, 1e-13).converged);
  const std::vector<double> J = potential.current_density();
  // A cell's mean density is that of its faces, so the rows of the rod each carry one ampere.
  for (std::size_t j = weld.grid.row_edge(weld.strip); j < weld.grid.nz(); ++j) {
    double current = 0;
    for (std::size_t i = 0; i < weld.planes[0].columns; ++i)
      current -= J[2 * weld.grid.index(i, j) + 1] * weld.grid.ring_area_inside(i, 1);
    EXPECT_NEAR(current, 1, 1e-9) << "row " << j;
  }
}

// Two contacts so poor that the rest does not matter: the resistance is 1/(g A) and the voltage
// even over the face.
TEST(Potential, poor_contact_alone_sets_the_resistance) {
  const double g = 1e4;
  const Weld weld(5, 5e9, 5e9, 5e9, g, 1e12);
  Potential potential = weld.potential();
  const PotentialOutcome out = potential.solve(weld.sigma, weld.g, 1e-13);
  const double area = pi * weld.tip * weld.tip;
  EXPECT_NEAR_RELATIVE(out.resistance, 1 / (g * area), 1e-4);
  for (const double u : potential.contacts()[0].voltage)
    EXPECT_NEAR_RELATIVE(u, 1 / (g * area), 1e-4);
}

// A contact 1e4 to 1e16 times as poor as the metal beside it: the resistance is right to the last
// digits and the metal keeps its own heat, that of even current through the poor face.
TEST(Potential, contacts_however_poor_cost_no_digits) {
  for (const std::size_t poor : {0U, 1U}) {
    std::vector<double> metal;
    for (const double g : {1e4, 10.0, 1e-2, 1e-5}) {
      Weld weld(5, 5e7, 1.4e7, 7e6, 5e8, 1.2e8, true);
      for (double& face : weld.g[poor]) face = g;
      Potential potential = weld.potential();
      const PotentialOutcome out = potential.solve(weld.sigma, weld.g, 1e-10);
      ASSERT_TRUE(out.converged) << g;
      EXPECT_LE(out.iterations, 25) << g;
      const double heat = potential.find_heat(), poor_part = 1 / (g * pi * weld.tip * weld.tip);
      EXPECT_NEAR_RELATIVE(heat, out.resistance, 1e-12) << g;
      EXPECT_GT(out.resistance, poor_part);
      EXPECT_LT(out.resistance, poor_part + 6e-3);
      EXPECT_NEAR_RELATIVE(out.resistance, poor_part, 6e-3 / poor_part) << g;
      metal.push_back(potential.bulk_heat().sum());
    }
    for (const double heat : metal) EXPECT_NEAR_RELATIVE(heat, metal[0], 1e-5);
  }
}

// The rim of a slit strip is insulated: all current crosses into the can.
TEST(Potential, slit_strip_sends_everything_into_the_can) {
  const Weld weld(6, 5e7, 1.4e7, 7e6, 5e8, 1.2e8, true);
  Potential potential = weld.potential();
  const PotentialOutcome out = potential.solve(weld.sigma, weld.g, 1e-12);
  ASSERT_TRUE(out.converged);
  EXPECT_NEAR(out.base_share, 1, 1e-9);
  const Weld open(6, 5e7, 1.4e7, 7e6, 5e8, 1.2e8, false);
  Potential other = open.potential();
  EXPECT_GT(out.resistance, other.solve(open.sigma, open.g, 1e-12).resistance);
}

TEST(Potential, all_conductivities_doubled_halve_the_resistance) {
  Weld weld(7, 5e7, 1.4e7, 7e6, 5e8, 1.2e8);
  Potential potential = weld.potential();
  const double once = potential.solve(weld.sigma, weld.g, 1e-13).resistance;
  weld.sigma *= 2;
  for (auto& plane : weld.g)
    for (double& face : plane) face *= 2;
  EXPECT_NEAR_RELATIVE(potential.solve(weld.sigma, weld.g, 1e-13).resistance, 0.5 * once, 1e-10);
}

// A plain rod, current in at the top and out through the mantle of its lowest row. 8 radii above
// that the flow is even to exp(-3.83 * 8) = 5e-14, so a longer rod adds rho dz/(pi b^2) exactly,
// whatever the mesh.
TEST(Potential, plain_cylinder_is_exact) {
  const double b = 1e-3, rho = 1e-7;
  std::mt19937 random(8);
  const std::vector<double> r = random_edges(0, b, 7, random);
  std::vector<double> foot{0, 1e-4};
  append(foot, random_edges(1e-4, 8e-3, 60, random));
  const auto resistance = [&](double height) {
    std::vector<double> z = foot;
    append(z, random_edges(8e-3, 8e-3 + height, 6, random));
    const AxisymmetricGrid grid(r, z, {{"rod", 1, 0, 8e-3 + height, b, b}});
    // Cut by a plane that touches everywhere without resistance.
    ContactPlane plane{30, grid.nr(), {}, {}};
    for (std::size_t i = 0; i < grid.nr(); ++i) {
      plane.area.push_back(grid.ring_area_inside(i, 1));
      plane.open_area.push_back(plane.area.back());
    }
    Potential potential(grid, {0, grid.nz()}, {plane}, {{0, 1, grid.nr()}});
    const Field sigma = Field::Constant(static_cast<Index>(grid.cells()), 1 / rho);
    const PotentialOutcome out =
        potential.solve(sigma, {std::vector<double>(grid.nr(), 1e18)}, 1e-14);
    EXPECT_TRUE(out.converged);
    EXPECT_NEAR_RELATIVE(potential.find_heat(), out.resistance, 1e-10);
    return out.resistance;
  };
  EXPECT_NEAR_RELATIVE(resistance(5e-3) - resistance(1e-3), rho * 4e-3 / (pi * b * b), 1e-9);
}

TEST(Potential, needs_a_ground) {
  const Weld weld(9, 5e7, 1.4e7, 7e6, 5e8, 1.2e8);
  EXPECT_THROW(Potential(weld.grid, {0, weld.grid.nz()}, weld.planes, {}), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt
