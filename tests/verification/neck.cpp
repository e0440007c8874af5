#include "tests/verification/neck.h"

#include <gtest/gtest.h>

#include <cmath>

#include "solver/electric_potential/potential.h"
#include "solver/material/constants.h"
#include "tests/support/columns.h"
#include "tests/support/joule_heating.h"
#include "tests/verification/heated_body.h"

namespace tabmelt::neck {
namespace {

using Index = Eigen::Index;
constexpr double neck_radius = 0.5e-3, body = 1.5e-3, half_neck = 0.25e-3;
constexpr double disc = 1e-3;  // height of the lower body

}  // namespace

Solution constriction(double k_upper, double k_lower, int cells_per_neck) {
  const double far = 3 * body, top = half_neck + far, bottom = -half_neck - disc;
  const int n = cells_per_neck;
  std::vector<double> r = even_edges(0, neck_radius, n);
  for (const double e : even_edges(neck_radius, body, 2 * n))
    if (e > neck_radius) r.push_back(e);
  std::vector<double> z{bottom};
  const auto add = [&](double to, int cells) {
    const std::vector<double> more = even_edges(z.back(), to, cells);
    z.insert(z.end(), more.begin() + 1, more.end() - 1);
    z.push_back(to);
  };
  add(-half_neck, 2 * n);
  add(0, n / 2);
  add(half_neck, n / 2);
  add(half_neck + body, 3 * n);
  add(top, 2 * n);
  const mesh::AxisymmetricGrid grid(r, z,
                                    {{"lower", 2, bottom, -half_neck, body, body},
                                     {"lower neck", 2, -half_neck, 0, neck_radius, neck_radius},
                                     {"upper neck", 1, 0, half_neck, neck_radius, neck_radius},
                                     {"upper", 1, half_neck, top, body, body}});
  ContactPlane plane{grid.row_edge(0) - 1, test::column_edge(grid, neck_radius), {}, {}};
  for (std::size_t i = 0; i < plane.columns; ++i) {
    plane.area.push_back(grid.ring_area_inside(i, neck_radius));
    plane.open_area.push_back(plane.area.back());
  }
  const std::size_t foot_rows = grid.row_edge(-half_neck);
  Potential potential(grid, {0, grid.nz()}, {plane}, {{0, foot_rows, grid.nr()}});
  const std::vector<std::vector<double>> perfect{std::vector<double>(plane.columns, 1e15)};

  const auto cells = static_cast<Index>(grid.cells());
  Field k = Field::Zero(cells), T = Field::Constant(cells, T0), sigma = k;
  for (Index c = 0; c < cells; ++c) {
    const auto region = grid.region(static_cast<std::size_t>(c));
    k[c] = region == 1 ? k_upper : (region == 2 ? k_lower : 0);
  }
  // Heat: the same faces as in a weld, ends held.
  FaceConductances faces;
  set_faces(grid, {0, grid.nz()}, k, k, faces);
  for (std::size_t i = 0; i < grid.nr(); ++i) {
    const auto lower = static_cast<Index>(grid.index(i, plane.below));
    faces.axial[lower] = 0;
    if (i < plane.columns)
      faces.axial[lower] = contact_face(grid, plane, i, k_lower, k_upper, 1e15).conductance();
    const std::size_t cell = grid.index(i, grid.nz() - 1);
    faces.boundary[static_cast<Index>(cell)] += k_upper / grid.axial_inner(cell);
  }
  for (std::size_t j = 0; j < foot_rows; ++j) {
    const std::size_t cell = grid.index(grid.nr() - 1, j);
    faces.boundary[static_cast<Index>(cell)] += k_lower / grid.radial_inner(cell);
  }
  LineMultigrid linear;
  linear.set_operator(faces, Field::Zero(cells));

  Solution s;
  const double L = constants::lorenz;
  double change = 1;
  for (int iteration = 0; iteration < 200 && change > 1e-8; ++iteration) {
    sigma = k / (L * T);
    const PotentialOutcome out = potential.solve(sigma, perfect, 1e-12);
    EXPECT_TRUE(out.converged);
    s.current = V / out.resistance;
    if (iteration == 0) s.gamma = out.resistance * k_upper / (L * T0);
    potential.find_heat();
    Field heat = potential.bulk_heat() * s.current * s.current;
    for (std::size_t i = 0; i < plane.columns; ++i)
      heat[static_cast<Index>(grid.index(i, plane.below))] +=
          potential.contacts()[0].heat[i] * s.current * s.current;
    Field next = T;
    EXPECT_TRUE(linear.solve(heat + faces.boundary * T0, 1e-12, 300, next).converged);
    for (Index c = 0; c < cells; ++c)
      if (k[c] == 0) next[c] = T0;
    change = (next - T).abs().maxCoeff();
    T = next;
  }
  EXPECT_LE(change, 1e-8);
  for (Index c = 0; c < cells; ++c) {
    if (k[c] == 0) continue;
    const double phi = potential.potential()[c] * s.current;
    s.worst = std::max(s.worst, std::abs(T[c] - exact::kohlrausch_temperature(T0, V, phi)));
    s.hottest = std::max(s.hottest, T[c]);
  }
  return s;
}

}  // namespace tabmelt::neck
