// Spreading resistance of a round spot on the end of a cylinder, on a plate and on a thin sheet.
//
// Exact: series and integrals for even current density over the spot, tests/support/constriction.h
// and sheet.h (Newman, J. Electrochem. Soc. 113 (1966) 501; Holm, Electric Contacts; Smythe, Static
// and Dynamic Electricity).
// Catches: a spot one cell too wide, a half cell missing between spot and body, a wrong logarithm
// towards the rim.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "mesh/spacing.h"
#include "solver/electric_potential/potential.h"
#include "tests/support/constriction.h"
#include "tests/support/near.h"
#include "tests/support/order_of_accuracy.h"
#include "tests/support/sheet.h"
#include "tests/verification/heated_body.h"

namespace tabmelt {
namespace {

using Index = Eigen::Index;
constexpr double kappa = 1.25e7;  // [S/m] round number
constexpr double a = 2.5e-4;      // [m] spot

mesh::Spacing radial(double outer, double resolution) {
  mesh::Spacing r;
  r.fixed = {0, a, outer};
  r.features = {{0, a / 8}, {a, a / 16}};
  r.growth = 0.25;
  r.largest = outer / 4;
  r.resolution = resolution;
  return r;
}

// Body below z = 0 with the spot on it, its bottom grounded: mean potential of the spot per ampere.
// Even current over the spot, or the spot at one potential (a perfect conductor on top of it).
double resistance(double outer, double height, double resolution, bool equipotential = false) {
  mesh::Spacing z = radial(height, resolution);
  z.fixed = {0, height};
  z.features = {{0, a / 16}};
  std::vector<double> edges;
  const auto down = mesh::graded_edges(z);
  for (auto e = down.rbegin(); e != down.rend(); ++e) edges.push_back(-*e);
  edges.back() = 0;
  edges.push_back(a / 10);
  const mesh::AxisymmetricGrid grid(
      mesh::graded_edges(radial(outer, resolution)), edges,
      {{"body", 1, -height, 0, outer, outer}, {"spot", 2, 0, a / 10, a, a}});
  const auto n = static_cast<Index>(grid.cells());
  Field k = Field::Zero(n), b = Field::Zero(n), phi = Field::Zero(n);
  for (Index c = 0; c < n; ++c) {
    const auto region = grid.region(static_cast<std::size_t>(c));
    k[c] = region == 1 ? kappa : (region == 2 && equipotential ? 1e7 * kappa : 0);
  }
  FaceConductances faces;
  set_faces(grid, {0, grid.nz()}, k, k, faces);
  for (std::size_t i = 0; i < grid.nr(); ++i)
    faces.boundary[static_cast<Index>(i)] = kappa / grid.bottom_outer(i);
  const std::size_t row = grid.nz() - (equipotential ? 1 : 2);
  const double disc = mesh::AxisymmetricGrid::disc_area(a);
  for (std::size_t i = 0; i < grid.nr(); ++i)
    b[static_cast<Index>(grid.index(i, row))] = grid.ring_area_inside(i, a) / disc;
  LineMultigrid linear;
  linear.set_operator(faces, Field::Zero(n));
  EXPECT_TRUE(linear.solve(b, 1e-11, 300, phi).converged);
  if (equipotential) return phi[static_cast<Index>(grid.index(0, row))];
  double sum = 0;
  for (std::size_t i = 0; i < grid.nr(); ++i) {
    const auto c = static_cast<Index>(grid.index(i, row));
    // From the cell's centre up to the spot.
    if (b[c] > 0)
      sum += b[c] * (phi[c] + b[c] * grid.axial_inner(static_cast<std::size_t>(c)) / kappa);
  }
  return sum;
}

TEST(constriction_resistance, spot_on_a_cylinder) {
  for (const double share : {0.2, 0.5})
    for (const double length : {0.25, 1.0, 5.0}) {
      const double b = a / share;
      EXPECT_NEAR_RELATIVE(resistance(b, length * b, 8),
                           exact::constriction::cylinder_uniform_flux(kappa, a, b, length * b),
                           1e-3);
    }
}

// A plate as wide as 12 spots and its thickness is as good as one without end: what lies beyond
// carries less than exp(-pi 12 a/t).
TEST(constriction_resistance, spot_on_a_plate) {
  for (const double t : {0.5 * a, a, 2 * a})
    EXPECT_NEAR_RELATIVE(resistance(a + 8 * t, t, 8),
                         exact::constriction::plate_uniform_flux(kappa, a, t), 1e-3);
}

// The potential of an even-current spot is smooth but for r^2 ln r at its edge: second order, less
// a logarithm.
TEST(constriction_resistance, even_current_is_second_order) {
  const double b = 2 * a, exact = exact::constriction::cylinder_uniform_flux(kappa, a, b, b);
  const auto study = order_in_steps(
      {1, 0.5, 0.25, 0.125}, [&](double h) { return std::abs(resistance(b, b, 1 / h) - exact); });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

// A spot at one potential draws a current density that is infinite at its edge (like 1/sqrt of the
// distance): the order tends to one from above, as it must; the coarsest pair is left out.
TEST(constriction_resistance, spot_at_one_potential_is_first_order) {
  const double b = 2 * a, exact = exact::constriction::cylinder_equipotential(kappa, a, b, 1.5 * b);
  const auto study = order_in_steps({1, 0.5, 0.25, 0.125}, [&](double h) {
    return std::abs(resistance(b, 1.5 * b, 1 / h, true) - exact);
  });
  EXPECT_TRUE(order_within(study, 1, 0.15, 1));
  EXPECT_LE(study.error.back(), 1e-2 * exact);
}

// A sheet under a spot, its rim grounded, solved by the potential solver of a weld. A rod that
// conducts badly along r keeps the current density even.
double sheet_resistance(double t, double R, double resolution) {
  mesh::Spacing z;
  z.fixed = {0, t};
  z.features = {{t, std::min(a, t) / 10}};
  z.growth = 0.3;
  z.largest = t / 4;
  z.resolution = resolution;
  std::vector<double> edges = mesh::graded_edges(z);
  const double rod = 1e-3;
  for (const double e : {0.5 * rod, rod}) edges.push_back(t + e);
  mesh::Spacing r = radial(R, resolution);
  const mesh::AxisymmetricGrid grid(mesh::graded_edges(r), edges,
                                    {{"sheet", 1, 0, t, R, R}, {"rod", 2, t, t + rod, a, a}},
                                    a * (1 + 1e-6));
  ContactPlane plane{grid.row_edge(t) - 1, grid.column_edge(a), {}, {}};
  for (std::size_t i = 0; i < plane.columns; ++i) {
    plane.area.push_back(grid.ring_area_inside(i, a));
    plane.open_area.push_back(plane.area.back());
  }
  Potential potential(grid, {0, grid.nz()}, {plane}, {{0, grid.row_edge(t), grid.column_edge(R)}});
  Field sigma = Field::Zero(static_cast<Index>(grid.cells()));
  for (Index c = 0; c < sigma.size(); ++c) {
    const auto region = grid.region(static_cast<std::size_t>(c));
    sigma[c] = region == 1 ? kappa : (region == 2 ? 1e-5 * kappa : 0);
  }
  // Even current is forced by the poorest part of the path: the contact.
  const std::vector<double> g(plane.columns, 1e-5 * kappa / a);
  EXPECT_TRUE(potential.solve(sigma, {g}, 1e-13).converged);
  double sum = 0;
  for (std::size_t i = 0; i < plane.columns; ++i) {
    const std::size_t cell = grid.index(i, plane.below);
    const double current = potential.contacts()[0].current[i];
    sum += current * (potential.potential()[static_cast<Index>(cell)] +
                      current * grid.axial_inner(cell) / kappa);
  }
  return sum;
}

TEST(constriction_resistance, spot_on_a_sheet_with_grounded_rim) {
  for (const double t : {2e-4, 5e-4})
    EXPECT_NEAR_RELATIVE(sheet_resistance(t, 5e-3, 4),
                         exact::sheet::surface_spot(1 / kappa, t, a, 5e-3), 1e-3);
}

TEST(constriction_resistance, sheet_is_second_order) {
  const double exact = exact::sheet::surface_spot(1 / kappa, 2e-4, a, 5e-3);
  const auto study = order_in_steps({1, 0.5, 0.25}, [&](double h) {
    return std::abs(sheet_resistance(2e-4, 5e-3, 1 / h) - exact);
  });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

}  // namespace
}  // namespace tabmelt
