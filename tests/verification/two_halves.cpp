#include "tests/verification/two_halves.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/finite_volume/line_multigrid.h"
#include "tests/support/columns.h"

namespace tabmelt {
namespace {

using Index = Eigen::Index;

// Where the far field of a half-space is taken over by that of a point source.
constexpr double half_space_end = 30;
// How far slabs reach beyond the disc, in units of the greater height: exp(-pi 8) is left.
constexpr double slab_end = 8;

// Even up to `even`, then growing, until `end`.
std::vector<double> edges_outwards(double width, double even, double end, double growth) {
  std::vector<double> edges{0};
  while (edges.back() < even - 0.5 * width) edges.push_back(edges.back() + width);
  for (double h = width; edges.back() < end; edges.push_back(edges.back() + h)) h *= 1 + growth;
  return edges;
}

std::vector<double> rows(const Halves& h, double ratio, double slab, double growth) {
  const double width = ratio / h.cells;
  if (slab <= 0) return edges_outwards(width, 1, half_space_end, growth);
  std::vector<double> edges{0};
  const int cells = static_cast<int>(std::lround(slab / width));
  for (int n = 1; n <= cells; ++n) edges.push_back(slab * n / cells);
  return edges;
}

mesh::AxisymmetricGrid grid_of(const Halves& h) {
  const double growth = std::pow(1 + h.growth, 10.0 / h.cells) - 1;
  const double end = h.lower > 0 ? 1.5 + slab_end * std::max(h.lower, h.upper) : half_space_end;
  const std::vector<double> up = rows(h, h.dz_upper, h.upper, growth);
  const std::vector<double> down = rows(h, h.dz_lower, h.lower, growth);
  std::vector<double> z;
  for (auto e = down.rbegin(); e != down.rend(); ++e) z.push_back(-*e);
  z.back() = 0;
  z.insert(z.end(), up.begin() + 1, up.end());
  const std::vector<double> r = edges_outwards(1.0 / h.cells, 2, end, growth);
  return {r,
          z,
          {{"lower", 1, z.front(), 0, r.back(), r.back()},
           {"upper", 2, 0, z.back(), h.rod ? 1 : r.back(), h.rod ? 1 : r.back()}}};
}

}  // namespace

TouchingHalves::TouchingHalves(const Halves& halves) : halves_(halves), grid_(grid_of(halves)) {
  plane_.below = grid_.row_edge(0) - 1;
  plane_.columns =
      halves.rod ? static_cast<std::size_t>(halves.cells) : test::column_at(grid_, 1.8);
  for (std::size_t i = 0; i < plane_.columns; ++i)
    plane_.area.push_back(grid_.axial_area(grid_.index(i, plane_.below)));
  plane_.open_area = plane_.area;
  k_.setZero(static_cast<Index>(grid_.cells()));
  for (std::size_t c = 0; c < grid_.cells(); ++c)
    k_[static_cast<Index>(c)] =
        grid_.region(c) == 1 ? halves.k_lower : (grid_.region(c) == 2 ? halves.k_upper : 0);
}

EdgeShare TouchingHalves::edge(double b) const {
  return edge_share(grid_.r_edges(), plane_.columns,
                    {halves_.k_lower, grid_.dz(plane_.below), halves_.k_upper,
                     grid_.dz(plane_.below + 1), halves_.g},
                    b);
}

FaceConductances TouchingHalves::faces(double b, bool sharp) const {
  FaceConductances faces;
  set_faces(grid_, {0, grid_.nz()}, k_, k_, faces);
  const EdgeShare edge = this->edge(b);
  for (std::size_t i = 0; i < grid_.nr(); ++i) {
    const auto lower = static_cast<Index>(grid_.index(i, plane_.below));
    faces.axial[lower] = 0;
    if (i >= plane_.columns) continue;
    const double covered = grid_.ring_area_inside(i, b) / plane_.area[i];
    faces.axial[lower] = sharp ? contact_face(grid_, plane_, i, halves_.k_lower, halves_.k_upper,
                                              halves_.g, edge.share_in(i))
                                     .conductance()
                               : contact_face(grid_, plane_, i, halves_.k_lower, halves_.k_upper,
                                              halves_.g * covered)
                                     .conductance();
  }
  return faces;
}

double TouchingHalves::resistance(double b, bool sharp) const {
  const auto n = static_cast<Index>(grid_.cells());
  const std::size_t nr = grid_.nr(), nz = grid_.nz();
  FaceConductances faces = this->faces(b, sharp);
  // Far sides at 1 and 0 less what a point source of the current through the disc adds there. Both
  // parts of the right side are solved for one by one.
  Field steady = Field::Zero(n), source = Field::Zero(n);
  const bool half_spaces = halves_.lower <= 0;
  const auto hold = [&](std::size_t cell, double conductance, double r, double z) {
    const auto c = static_cast<Index>(cell);
    const double k = z > 0 ? halves_.k_upper : halves_.k_lower;
    faces.boundary[c] += conductance * k;
    if (z > 0) steady[c] += conductance * k;
    if (half_spaces)
      source[c] -= (z > 0 ? 1 : -1) * conductance / (2 * std::numbers::pi * std::hypot(r, z));
  };
  for (std::size_t i = 0; i < nr; ++i) {
    hold(i, 1 / grid_.bottom_outer(i), grid_.r_centre(i), grid_.z_edges().front());
    const std::size_t top = grid_.index(i, nz - 1);
    if (k_[static_cast<Index>(top)] > 0)
      hold(top, 1 / grid_.axial_inner(top), grid_.r_centre(i), grid_.z_edges().back());
  }
  for (std::size_t j = 0; half_spaces && j < nz; ++j) {
    const std::size_t rim = grid_.index(nr - 1, j);
    hold(rim, 1 / grid_.radial_inner(rim), grid_.r_edges().back(), grid_.z_centre(j));
  }
  LineMultigrid linear;
  linear.set_operator(faces, Field::Zero(n));
  const auto current = [&](const Field& right) {
    Field x = Field::Zero(n);
    if (right.abs().maxCoeff() <= 0) return 0.0;
    EXPECT_TRUE(linear.solve(right, 1e-11, 400, x).converged);
    double sum = 0;
    for (std::size_t i = 0; i < plane_.columns; ++i) {
      const auto lower = static_cast<Index>(grid_.index(i, plane_.below));
      sum += faces.axial[lower] * (x[lower + static_cast<Index>(nr)] - x[lower]);
    }
    return sum;
  };
  return (1 - current(source)) / current(steady);
}

std::vector<double> sweep_through_columns(int cells, int steps) {
  std::vector<double> b;
  for (int n = 0; n <= steps; ++n) b.push_back(1 + 3.0 * n / (steps * cells));
  return b;
}

}  // namespace tabmelt
