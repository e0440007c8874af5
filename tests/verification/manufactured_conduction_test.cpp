// A manufactured field with conductivity that depends on temperature, on an even and on a graded
// grid, with exact heat flux through every outer face.
//
// Exact by construction (Roache, J. Fluids Eng. 124 (2002) 4), tests/support/
// manufactured_conduction.h.
// Catches: a conductivity taken at the wrong moment or place, a source per cell of the wrong
// volume, order lost on graded grids.
#include "tests/support/manufactured_conduction.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/order_of_accuracy.h"
#include "tests/verification/heated_body.h"

namespace tabmelt {
namespace {

constexpr double base = 500;  // [K]; the field is a rise above it
const exact::ManufacturedConduction field{1e-3, 8e-4, 400, 2e-3, 60, -4e-4, 4e6};

Material metal() {
  Material m;
  m.name = "metal with falling conductivity";
  m.density = 8000;
  m.specific_heat = Curve::constant(500);
  // Straight, as k0 (1 + b theta) is.
  m.thermal_conductivity = {{base - 400, base + 600}, {60 * (1 + 0.16), 60 * (1 - 0.24)}};
  return m;
}

enum class Grid { even, graded };

struct Error {
  double mean_square = 0, largest = 0;  // [K]
};

Error error_of(Grid kind, int cells, int steps) {
  // The same smooth map of a uniform index on every grid: the last cell three times the first.
  const double ratio = std::pow(3.0, 1.0 / cells);
  const auto edges = [&](double to) {
    return kind == Grid::even ? even_edges(0, to, cells) : geometric_edges(to, cells, ratio);
  };
  HeatedBody body(full_cylinder(edges(field.radius), edges(field.height)), {metal()}, base);
  const auto& grid = body.grid();
  body.start_from([](double r, double z) { return base + field.theta(r, z, 0); });
  const auto index = [&](std::size_t i, std::size_t j) {
    return static_cast<Eigen::Index>(grid.index(i, j));
  };
  const double end = 2e-3;
  body.march(graded_moments(end, steps, 1), [&](double t, Field& heat) {
    for (std::size_t j = 0; j < grid.nz(); ++j)
      for (std::size_t i = 0; i < grid.nr(); ++i)
        heat[index(i, j)] +=
            field.source(grid.r_centre(i), grid.z_centre(j), t) * grid.volume(grid.index(i, j));
    for (std::size_t i = 0; i < grid.nr(); ++i) {
      const double area = grid.ring_area_inside(i, 1), r = grid.r_centre(i);
      heat[index(i, 0)] += field.flux_z(r, 0, t) * area;
      heat[index(i, grid.nz() - 1)] -= field.flux_z(r, field.height, t) * area;
    }
    const std::size_t rim = grid.nr() - 1;
    for (std::size_t j = 0; j < grid.nz(); ++j)
      heat[index(rim, j)] -=
          field.flux_r(field.radius, grid.z_centre(j), t) * grid.radial_area(grid.index(rim, j));
  });
  const auto exact = [&](double r, double z) { return base + field.theta(r, z, end); };
  Error e{body.mean_square_error(exact), 0};
  for (std::size_t j = 0; j < grid.nz(); ++j)
    for (std::size_t i = 0; i < grid.nr(); ++i)
      e.largest = std::max(e.largest,
                           std::abs(body.T_at(i, j) - exact(grid.r_centre(i), grid.z_centre(j))));
  return e;
}

TEST(ManufacturedConduction, second_order_on_even_cells) {
  const auto study = order_in_cells(
      {8, 16, 32}, [](int cells) { return error_of(Grid::even, cells, 4 * cells).mean_square; });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

TEST(ManufacturedConduction, second_order_on_a_graded_grid) {
  const auto study = order_in_cells(
      {8, 16, 32}, [](int cells) { return error_of(Grid::graded, cells, 4 * cells).mean_square; });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

// The worst cell sits at a corner of the graded grid; its error falls a little slower on coarse
// grids, where a neighbour differs much in size.
TEST(ManufacturedConduction, worst_cell_tends_to_second_order) {
  const auto study = order_in_cells(
      {10, 20, 40}, [](int cells) { return error_of(Grid::graded, cells, 2 * cells).largest; });
  EXPECT_TRUE(order_within(study, 2, 0.3));
}

TEST(ManufacturedConduction, second_order_in_time) {
  // On one grid the error in space stays; it is taken out by a run with very short steps.
  const int cells = 10;
  const auto at = [&](int steps) {
    HeatedBody body(full_cylinder(even_edges(0, 1e-3, cells), even_edges(0, 8e-4, cells)),
                    {metal()}, base);
    body.start_from([](double r, double z) { return base + field.theta(r, z, 0); });
    body.hold(HeatedBody::Side::rim, base);
    body.march(graded_moments(2e-3, steps, 1));
    return body.T_at(0, 5);
  };
  const double finest = at(1024);
  const auto study =
      order_in_cells({16, 32, 64, 128}, [&](int steps) { return std::abs(at(steps) - finest); });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

}  // namespace
}  // namespace tabmelt
