#include "tests/verification/spreading.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <vector>

#include "mesh/spacing.h"
#include "solver/electric_potential/potential.h"
#include "tests/support/columns.h"

namespace tabmelt::spreading {
namespace {

using Index = Eigen::Index;

mesh::Spacing radial(double outer, double resolution) {
  mesh::Spacing r;
  r.fixed = {0, a, outer};
  r.features = {{0, a / 8}, {a, a / 16}};
  r.growth = 0.25;
  r.largest = outer / 4;
  r.resolution = resolution;
  return r;
}

}  // namespace

double resistance(double outer, double height, double resolution, bool equipotential) {
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

// A rod that conducts badly along r keeps the current density even.
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
  ContactPlane plane{grid.row_edge(t) - 1, test::column_edge(grid, a), {}, {}};
  for (std::size_t i = 0; i < plane.columns; ++i) {
    plane.area.push_back(grid.ring_area_inside(i, a));
    plane.open_area.push_back(plane.area.back());
  }
  Potential potential(grid, {0, grid.nz()}, {plane},
                      {{0, grid.row_edge(t), test::column_edge(grid, R)}});
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

}  // namespace tabmelt::spreading
