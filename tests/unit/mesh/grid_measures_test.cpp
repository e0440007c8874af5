// Volumes, areas and half distances of the grid, against the formulas of solid geometry.
// Catches: a wrong power of the radius, a factor 2 pi, a cone counted as a staircase, faces that
// are open where the part has ended.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "mesh/axisymmetric_grid.h"
#include "tests/support/near.h"

namespace tabmelt::mesh {
namespace {

using std::numbers::pi;
constexpr double round_off = 1e-13;

const std::vector<double> uneven_r{0, 0.1e-3, 0.25e-3, 0.31e-3, 0.7e-3, 1.2e-3};
const std::vector<double> uneven_z{-0.3e-3, -0.1e-3, 0, 0.4e-3, 0.55e-3, 2e-3};

double total_volume(const AxisymmetricGrid& grid) {
  double sum = 0;
  for (const double v : grid.volumes()) sum += v;
  return sum;
}

TEST(GridMeasures, cells_of_a_cylinder_fill_it_exactly) {
  const AxisymmetricGrid grid(uneven_r, uneven_z, {{"rod", 1, -0.3e-3, 2e-3, 1.2e-3, 1.2e-3}});
  EXPECT_NEAR_RELATIVE(total_volume(grid), pi * 1.2e-3 * 1.2e-3 * 2.3e-3, round_off);
}

TEST(GridMeasures, every_horizontal_cut_of_a_cylinder_has_its_area) {
  const AxisymmetricGrid grid(uneven_r, uneven_z, {{"rod", 1, -0.3e-3, 2e-3, 1.2e-3, 1.2e-3}});
  const double disc = pi * 1.2e-3 * 1.2e-3;
  double bottom = 0;
  for (std::size_t i = 0; i < grid.nr(); ++i) bottom += grid.bottom_area(i);
  EXPECT_NEAR_RELATIVE(bottom, disc, round_off);
  for (std::size_t j = 0; j < grid.nz(); ++j) {
    double area = 0;
    for (std::size_t i = 0; i < grid.nr(); ++i) area += grid.axial_area(grid.index(i, j));
    EXPECT_NEAR_RELATIVE(area, disc, round_off);
  }
}

TEST(GridMeasures, vertical_faces_are_cylinder_mantles) {
  const AxisymmetricGrid grid(uneven_r, uneven_z, {{"rod", 1, -0.3e-3, 2e-3, 1.2e-3, 1.2e-3}});
  for (std::size_t i = 0; i < grid.nr(); ++i) {
    double area = 0;
    for (std::size_t j = 0; j < grid.nz(); ++j) area += grid.radial_area(grid.index(i, j));
    EXPECT_NEAR_RELATIVE(area, 2 * pi * uneven_r[i + 1] * 2.3e-3, round_off);
  }
}

TEST(GridMeasures, disc_on_a_wider_disc_leaves_space_beside_it_empty) {
  const AxisymmetricGrid grid(
      uneven_r, uneven_z,
      {{"sheet", 2, -0.3e-3, 0, 1.2e-3, 1.2e-3}, {"rod", 1, 0, 2e-3, 0.31e-3, 0.31e-3}});
  EXPECT_NEAR_RELATIVE(total_volume(grid),
                       pi * (1.2e-3 * 1.2e-3 * 0.3e-3 + 0.31e-3 * 0.31e-3 * 2e-3), round_off);
  EXPECT_EQ(grid.region(grid.index(2, 1)), 2);
  EXPECT_EQ(grid.region(grid.index(2, 2)), 1);
  EXPECT_EQ(grid.region(grid.index(3, 2)), 0);
  EXPECT_EQ(grid.volume(grid.index(3, 2)), 0);
  // The rod's mantle is an outer face of its own column; the sheet goes on underneath.
  EXPECT_NEAR_RELATIVE(grid.radial_area(grid.index(2, 2)), 2 * pi * 0.31e-3 * 0.4e-3, round_off);
  EXPECT_EQ(grid.radial_area(grid.index(3, 2)), 0);
  EXPECT_EQ(grid.axial_area(grid.index(3, 2)), 0);
  // The touching plane is open over the rod's face.
  double touching = 0;
  for (std::size_t i = 0; i < 3; ++i) touching += grid.axial_area(grid.index(i, 1));
  EXPECT_NEAR_RELATIVE(touching, pi * 0.31e-3 * 0.31e-3, round_off);
}

// Volume of a frustum: pi h (a^2 + a b + b^2)/3. The cone cuts cells at every height.
TEST(GridMeasures, frustum_that_cuts_cells_keeps_its_volume) {
  std::vector<double> r{0}, z{0};
  for (int n = 1; n <= 37; ++n) r.push_back(n * 3.1e-3 / 37);
  for (int n = 1; n <= 23; ++n) z.push_back(n * 4e-3 / 23);
  const double a = 0.75e-3, b = 3e-3;
  const AxisymmetricGrid grid(r, z, {{"cone", 1, 0, 4e-3, a, b}});
  // Cells filled less than a thousandth are left out: that is the only thing missing.
  const double exact = pi * 4e-3 * (a * a + a * b + b * b) / 3;
  EXPECT_NEAR_RELATIVE(total_volume(grid), exact, 1e-5);
  EXPECT_LE(total_volume(grid), exact * (1 + round_off));
}

TEST(GridMeasures, frustum_cut_by_no_small_corner_is_exact) {
  // Rows and columns chosen so that each cut cell is filled by far more than a thousandth.
  const AxisymmetricGrid grid({0, 0.5e-3, 1.0e-3, 1.5e-3, 2.0e-3}, {0, 1e-3, 2e-3, 3e-3},
                              {{"cone", 1, 0, 3e-3, 0.5e-3, 2.0e-3}});
  const double exact = pi * 3e-3 * (0.25 + 1.0 + 4.0) * 1e-6 / 3;
  EXPECT_NEAR_RELATIVE(total_volume(grid), exact, round_off);
}

TEST(GridMeasures, cone_narrowing_upwards_is_the_mirror_image) {
  const std::vector<double> r{0, 0.4e-3, 0.9e-3, 1.3e-3, 2.0e-3};
  const AxisymmetricGrid up(r, {0, 1e-3, 2e-3, 3e-3}, {{"cone", 1, 0, 3e-3, 0.5e-3, 2.0e-3}});
  const AxisymmetricGrid down(r, {0, 1e-3, 2e-3, 3e-3}, {{"cone", 1, 0, 3e-3, 2.0e-3, 0.5e-3}});
  for (std::size_t j = 0; j < 3; ++j) {
    for (std::size_t i = 0; i < 4; ++i) {
      EXPECT_DOUBLE_EQ(up.volume(up.index(i, j)), down.volume(down.index(i, 2 - j)));
      EXPECT_DOUBLE_EQ(up.radial_area(up.index(i, j)), down.radial_area(down.index(i, 2 - j)));
    }
  }
}

// A face inside a cone is open only as far as the cone reaches: height (b - r)/(b - a) of its row.
TEST(GridMeasures, face_cut_by_a_cone_is_open_in_part) {
  const AxisymmetricGrid grid({0, 1e-3, 2e-3}, {0, 2e-3}, {{"cone", 1, 0, 2e-3, 0.5e-3, 2e-3}});
  EXPECT_NEAR_RELATIVE(grid.radial_area(grid.index(0, 0)),
                       2 * pi * 1e-3 * 2e-3 * (2.0 - 1.0) / (2.0 - 0.5), round_off);
  // Top face: whole disc of radius 2 mm. Bottom: disc of radius 0.5 mm.
  EXPECT_NEAR_RELATIVE(grid.axial_area(grid.index(0, 0)) + grid.axial_area(grid.index(1, 0)),
                       pi * 4e-6, round_off);
  EXPECT_NEAR_RELATIVE(grid.bottom_area(0) + grid.bottom_area(1), pi * 0.25e-6, round_off);
}

TEST(GridMeasures, cone_faces_between_rows_have_the_narrower_disc) {
  const AxisymmetricGrid grid({0, 0.5e-3, 1.0e-3, 1.5e-3, 2.0e-3}, {0, 1e-3, 2e-3, 3e-3},
                              {{"cone", 1, 0, 3e-3, 0.5e-3, 2.0e-3}});
  for (std::size_t j = 0; j < 2; ++j) {
    double area = 0;
    for (std::size_t i = 0; i < 4; ++i) area += grid.axial_area(grid.index(i, j));
    const double radius = 0.5e-3 * static_cast<double>(j + 2);
    EXPECT_NEAR_RELATIVE(area, pi * radius * radius, round_off);
  }
}

TEST(GridMeasures, axial_half_distances_are_half_heights_over_the_area) {
  const AxisymmetricGrid grid(uneven_r, uneven_z, {{"rod", 1, -0.3e-3, 2e-3, 1.2e-3, 1.2e-3}});
  for (std::size_t j = 0; j + 1 < grid.nz(); ++j) {
    for (std::size_t i = 0; i < grid.nr(); ++i) {
      const std::size_t c = grid.index(i, j);
      const double area = pi * (uneven_r[i + 1] * uneven_r[i + 1] - uneven_r[i] * uneven_r[i]);
      EXPECT_NEAR_RELATIVE(grid.axial_inner(c), 0.5 * grid.dz(j) / area, round_off);
      EXPECT_NEAR_RELATIVE(grid.axial_outer(c), 0.5 * grid.dz(j + 1) / area, round_off);
    }
  }
  EXPECT_NEAR_RELATIVE(grid.bottom_outer(0), 0.5 * 0.2e-3 / (pi * 1e-8), round_off);
}

// Integral of dr/(2 pi r dz) from the centre to the face: planar inside, logarithm outside.
TEST(GridMeasures, radial_half_distances_are_planar_inside_and_logarithmic_outside) {
  const AxisymmetricGrid grid(uneven_r, {0, 1e-3}, {{"rod", 1, 0, 1e-3, 1.2e-3, 1.2e-3}}, 0.28e-3);
  for (std::size_t i = 0; i + 1 < grid.nr(); ++i) {
    const double face = uneven_r[i + 1];
    const double inner = 0.5 * (uneven_r[i] + uneven_r[i + 1]);
    const double outer = 0.5 * (uneven_r[i + 1] + uneven_r[i + 2]);
    if (face > 0.28e-3) {
      EXPECT_NEAR_RELATIVE(grid.radial_inner(i), std::log(face / inner) / (2 * pi * 1e-3),
                           round_off);
      EXPECT_NEAR_RELATIVE(grid.radial_outer(i), std::log(outer / face) / (2 * pi * 1e-3),
                           round_off);
    } else {
      EXPECT_NEAR_RELATIVE(grid.radial_inner(i), (face - inner) / (2 * pi * face * 1e-3),
                           round_off);
      EXPECT_NEAR_RELATIVE(grid.radial_outer(i), (outer - face) / (2 * pi * face * 1e-3),
                           round_off);
    }
  }
}

TEST(GridMeasures, ring_area_inside_a_radius_adds_up_to_the_disc) {
  const AxisymmetricGrid grid(uneven_r, {0, 1e-3}, {{"rod", 1, 0, 1e-3, 1.2e-3, 1.2e-3}});
  for (const double a : {0.0, 0.05e-3, 0.1e-3, 0.2e-3, 0.31e-3, 0.5e-3, 1.2e-3}) {
    double sum = 0;
    for (std::size_t i = 0; i < grid.nr(); ++i) sum += grid.ring_area_inside(i, a);
    EXPECT_NEAR(sum, pi * a * a, 1e-20);
  }
  EXPECT_EQ(grid.ring_area_inside(3, 0.2e-3), 0);
  EXPECT_NEAR_RELATIVE(grid.ring_area_inside(2, 1.0), pi * (0.31e-3 * 0.31e-3 - 0.25e-3 * 0.25e-3),
                       round_off);
  EXPECT_NEAR_RELATIVE(AxisymmetricGrid::disc_area(2e-3), pi * 4e-6, round_off);
}

TEST(GridMeasures, heights_find_their_row_and_edge) {
  const AxisymmetricGrid grid(uneven_r, uneven_z, {{"rod", 1, -0.3e-3, 2e-3, 1.2e-3, 1.2e-3}});
  EXPECT_EQ(grid.row_at(-9e-3), 0U);
  EXPECT_EQ(grid.row_at(0.1e-3), 2U);
  EXPECT_EQ(grid.row_edge(0), 2U);
  EXPECT_THROW(grid.row_edge(0.1e-3), std::out_of_range);
}

TEST(GridMeasures, edges_that_do_not_increase_are_refused) {
  const std::vector<Part> none;
  EXPECT_THROW(AxisymmetricGrid({0, 1, 1}, {0, 1}, none), std::invalid_argument);
  EXPECT_THROW(AxisymmetricGrid({0, 1}, {0, -1}, none), std::invalid_argument);
  EXPECT_THROW(AxisymmetricGrid({0.1, 1}, {0, 1}, none), std::invalid_argument);
  EXPECT_THROW(AxisymmetricGrid({0}, {0, 1}, none), std::invalid_argument);
  EXPECT_THROW(AxisymmetricGrid({0, std::nan("")}, {0, 1}, none), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::mesh
