// The diffusion operator against exact discrete answers: fields it must reproduce to round-off.
// Catches: an arithmetic mean of conductivities, half distances swapped between the two sides, a
// contact counted twice, a false term on the axis.
#include "solver/finite_volume/diffusion.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "solver/finite_volume/line_multigrid.h"
#include "tests/support/near.h"

namespace tabmelt {
namespace {

using Index = Eigen::Index;
using mesh::AxisymmetricGrid;
using std::numbers::pi;

std::vector<double> even_edges(double from, double to, int cells) {
  std::vector<double> edges;
  for (int n = 0; n <= cells; ++n) edges.push_back(from + (to - from) * n / cells);
  return edges;
}

std::vector<double> random_edges(double from, double to, int cells, unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> size(0.1, 1.0);
  std::vector<double> edges{0};
  for (int n = 0; n < cells; ++n) edges.push_back(edges.back() + size(random));
  const double scale = (to - from) / edges.back();
  for (double& e : edges) e = from + e * scale;
  edges.back() = to;
  return edges;
}

AxisymmetricGrid cylinder(std::vector<double> r, std::vector<double> z,
                          double log_beyond = std::numeric_limits<double>::infinity()) {
  const mesh::Part all{"all", 1, z.front(), z.back(), r.back(), r.back()};
  return {std::move(r), std::move(z), {all}, log_beyond};
}

Field solved(const FaceConductances& faces, const Field& b) {
  LineMultigrid linear;
  Field none = Field::Zero(b.size()), x = Field::Zero(b.size());
  linear.set_operator(faces, none);
  EXPECT_TRUE(linear.solve(b, 1e-14, 200, x).converged);
  return x;
}

TEST(Diffusion, uniform_field_drives_no_flow) {
  const AxisymmetricGrid grid =
      cylinder(random_edges(0, 2e-3, 13, 1), random_edges(0, 1e-3, 11, 2));
  std::mt19937 random(3);
  std::uniform_real_distribution<double> exponent(-3, 3);
  Field k(static_cast<Index>(grid.cells()));
  for (double& value : k) value = std::pow(10, exponent(random));
  FaceConductances faces;
  set_faces(grid, {0, grid.nz()}, k, k, faces);
  Field y;
  apply(faces, Field::Constant(k.size(), 700.0), y);
  EXPECT_EQ(y.abs().maxCoeff(), 0);
}

TEST(Diffusion, operator_is_symmetric_and_conserves) {
  const AxisymmetricGrid grid =
      cylinder(random_edges(0, 2e-3, 13, 4), random_edges(0, 1e-3, 11, 5), 1e-3);
  std::mt19937 random(6);
  std::uniform_real_distribution<double> value(0.1, 1);
  const auto n = static_cast<Index>(grid.cells());
  Field k_r(n), k_z(n), u(n), v(n), au, av;
  for (Field* f : {&k_r, &k_z, &u, &v})
    for (double& x : *f) x = value(random);
  FaceConductances faces;
  set_faces(grid, {0, grid.nz()}, k_r, k_z, faces);
  apply(faces, u, au);
  apply(faces, v, av);
  EXPECT_NEAR_RELATIVE((v * au).sum(), (u * av).sum(), 1e-13);
  EXPECT_NEAR(au.sum(), 0, 1e-14 * au.abs().sum());
}

// T = z: the same flow through every height of every column, none sideways.
TEST(Diffusion, field_linear_in_z_is_exact_on_any_mesh) {
  const AxisymmetricGrid grid = cylinder(random_edges(0, 2e-3, 9, 7), random_edges(0, 1e-3, 17, 8));
  const auto n = static_cast<Index>(grid.cells());
  const double k = 60;
  FaceConductances faces;
  set_faces(grid, {0, grid.nz()}, Field::Constant(n, k), Field::Constant(n, k), faces);
  Field T(n), y;
  for (std::size_t c = 0; c < grid.cells(); ++c)
    T[static_cast<Index>(c)] = grid.z_centre(c / grid.nr());
  apply(faces, T, y);
  for (std::size_t j = 0; j < grid.nz(); ++j) {
    for (std::size_t i = 0; i < grid.nr(); ++i) {
      const double flow = k * grid.ring_area_inside(i, 1);
      const double wanted = j == 0 ? -flow : (j + 1 == grid.nz() ? flow : 0);
      EXPECT_NEAR(y[static_cast<Index>(grid.index(i, j))], wanted, 1e-11 * flow);
    }
  }
}

// Conductance of one face between unlike cells with a contact between them:
//   G/A = 1/(dx1/(2 k1) + 1/h + dx2/(2 k2)),
// 180974.477958 W/m^2/K for 20 um of k = 390, 50 um of k = 50 and h = 2e5 W/m^2/K.
TEST(Diffusion, contact_between_unlike_cells_is_in_series_with_their_halves) {
  const AxisymmetricGrid grid = cylinder({0, 1e-3}, {0, 2e-5, 7e-5});
  const double area = grid.axial_area(0);
  const ContactPlane plane{0, 1, {area}, {area}};
  const ContactFace face = contact_face(grid, plane, 0, 390, 50, 2e5);
  EXPECT_NEAR_RELATIVE(face.conductance() / area, 180974.477958, 1e-11);
  // Without a contact the two halves alone; the arithmetic mean of k would give 2.48 times more.
  Field k(2);
  k << 390, 50;
  FaceConductances faces;
  set_faces(grid, {0, 2}, k, k, faces);
  EXPECT_NEAR_RELATIVE(faces.axial[0] / area, 1 / (1e-5 / 390 + 2.5e-5 / 50), 1e-13);
}

TEST(Diffusion, touching_part_of_a_face_narrows_the_way_to_it) {
  const AxisymmetricGrid grid = cylinder({0, 1e-3}, {0, 2e-5, 7e-5});
  const double area = grid.axial_area(0);
  const ContactPlane half{0, 1, {0.5 * area}, {area}};
  const ContactFace whole = contact_face(grid, {0, 1, {area}, {area}}, 0, 390, 50, 2e5);
  const ContactFace narrow = contact_face(grid, half, 0, 390, 50, 2e5);
  EXPECT_NEAR_RELATIVE(narrow.conductance(), 0.5 * whole.conductance(), 1e-13);
  const ContactFace open = contact_face(grid, half, 0, 390, 50, 0);
  EXPECT_EQ(open.conductance(), 0);
}

// Two layers with a contact, faces held at 800 K and 300 K: the flux is (Ta - Tb)/(L1/k1 + 1/h +
// L2/k2) = 2.7027e7 W/m^2 and the profile straight in each layer, whatever the mesh.
// Carslaw & Jaeger, 2nd ed. (1959), section 3.2 (number from memory).
TEST(Diffusion, steady_layered_wall_is_exact_on_any_mesh) {
  const double L1 = 2e-4, L2 = 3e-4, k1 = 80, k2 = 50, h = 1e5, Ta = 800, Tb = 300;
  const double flux = (Ta - Tb) / (L1 / k1 + 1 / h + L2 / k2);
  EXPECT_NEAR_RELATIVE(flux, 2.7027027027e7, 1e-10);
  for (unsigned seed = 1; seed <= 5; ++seed) {
    // The lower layer is body 2; z counts upwards.
    std::vector<double> z = random_edges(0, L2, 3 + static_cast<int>(seed), seed);
    const std::size_t below = z.size() - 2;
    for (const double e : random_edges(L2, L2 + L1, 7, seed + 50))
      if (e > L2) z.push_back(e);
    const AxisymmetricGrid grid = cylinder(random_edges(0, 1e-3, 4, seed + 90), z);
    const auto n = static_cast<Index>(grid.cells());
    Field k(n);
    for (Index c = 0; c < n; ++c) k[c] = static_cast<std::size_t>(c) / grid.nr() <= below ? k2 : k1;
    FaceConductances faces;
    set_faces(grid, {0, grid.nz()}, k, k, faces);
    ContactPlane plane{below, grid.nr(), {}, {}};
    Field b = Field::Zero(n);
    for (std::size_t i = 0; i < grid.nr(); ++i) {
      plane.area.push_back(grid.ring_area_inside(i, 1));
      plane.open_area.push_back(plane.area.back());
    }
    for (std::size_t i = 0; i < grid.nr(); ++i) {
      faces.axial[static_cast<Index>(grid.index(i, below))] =
          contact_face(grid, plane, i, k2, k1, h).conductance();
      const auto low = static_cast<Index>(i),
                 top = static_cast<Index>(grid.index(i, grid.nz() - 1));
      faces.boundary[low] = k2 / grid.bottom_outer(i);
      faces.boundary[top] = k1 / grid.axial_inner(static_cast<std::size_t>(top));
      b[low] = faces.boundary[low] * Tb;
      b[top] = faces.boundary[top] * Ta;
    }
    const Field T = solved(faces, b);
    for (std::size_t c = 0; c < grid.cells(); ++c) {
      const double at = grid.z_centre(c / grid.nr());
      const double exact = at < L2 ? Tb + flux * at / k2 : Ta - flux * (L1 + L2 - at) / k1;
      EXPECT_NEAR(T[static_cast<Index>(c)], exact, 1e-9);
    }
  }
}

// Discrete Laplacian of a cylinder cut into even rings, planar half distances:
//   of r^2: 4 everywhere;  of r^4: 16 r_i^2 + 6 dr^2, on the axis as elsewhere
// (insert r_i = (i + 1/2) dr into the flux balance of a ring).
TEST(Diffusion, laplacian_of_even_powers_is_exact_up_to_the_axis) {
  const double dr = 1e-4;
  const AxisymmetricGrid grid = cylinder(even_edges(0, 20 * dr, 20), {0, 1e-3});
  const auto n = static_cast<Index>(grid.cells());
  FaceConductances faces;
  set_faces(grid, {0, 1}, Field::Ones(n), Field::Ones(n), faces);
  Field square(n), fourth(n), flow_square, flow_fourth;
  for (Index i = 0; i < n; ++i) {
    const double r = grid.r_centre(static_cast<std::size_t>(i));
    square[i] = r * r;
    fourth[i] = r * r * r * r;
  }
  apply(faces, square, flow_square);
  apply(faces, fourth, flow_fourth);
  for (Index i = 0; i + 1 < n; ++i) {
    const double r = grid.r_centre(static_cast<std::size_t>(i));
    const double volume = grid.volume(static_cast<std::size_t>(i));
    EXPECT_NEAR_RELATIVE(-flow_square[i] / volume, 4, 1e-11) << "ring " << i;
    EXPECT_NEAR_RELATIVE(-flow_fourth[i] / volume, 16 * r * r + 6 * dr * dr, 1e-11) << "ring " << i;
  }
}

// T = ln r carries the same heat through every mantle: exact where half distances are logarithmic.
TEST(Diffusion, logarithm_flows_exactly_where_half_distances_are_logarithmic) {
  const AxisymmetricGrid grid = cylinder(random_edges(0, 2e-3, 15, 11), {0, 3e-4}, 0);
  const auto n = static_cast<Index>(grid.cells());
  FaceConductances faces;
  const double k = 70;
  set_faces(grid, {0, 1}, Field::Constant(n, k), Field::Constant(n, k), faces);
  for (Index i = 0; i + 1 < n; ++i) {
    const double a = std::log(grid.r_centre(static_cast<std::size_t>(i)));
    const double b = std::log(grid.r_centre(static_cast<std::size_t>(i) + 1));
    EXPECT_NEAR_RELATIVE(faces.radial[i] * (b - a), 2 * pi * 3e-4 * k, 1e-12);
  }
}

// Planar against logarithmic on an even mesh: 1.0986 at the first face, 1.0217 at the second,
// 1.0023 at the sixth (ratio of (dr/r_face) to ln(r2/r1)).
TEST(Diffusion, planar_faces_conduct_more_than_logarithmic_ones_near_the_axis) {
  const auto edges = even_edges(0, 1e-3, 10);
  const AxisymmetricGrid planar = cylinder(edges, {0, 1e-3}), exact = cylinder(edges, {0, 1e-3}, 0);
  const auto n = static_cast<Index>(planar.cells());
  FaceConductances p, e;
  set_faces(planar, {0, 1}, Field::Ones(n), Field::Ones(n), p);
  set_faces(exact, {0, 1}, Field::Ones(n), Field::Ones(n), e);
  EXPECT_NEAR_RELATIVE(p.radial[0] / e.radial[0], 1.09861228867, 1e-10);
  EXPECT_NEAR_RELATIVE(p.radial[1] / e.radial[1], 1.02165124753, 1e-10);
  EXPECT_NEAR_RELATIVE(p.radial[5] / e.radial[5], 1.00232450798, 1e-10);
}

// Coaxial shells with a contact between them, per length: 2 pi dT / (ln(r2/r1)/k1 + 1/(h r2) +
// ln(r3/r2)/k2) = 29130.27 W/m. Built from two face conductances in series, as the operator does.
TEST(Diffusion, coaxial_shells_conduct_as_the_logarithm_says) {
  const double r1 = 1e-3, r2 = 1.5e-3, r3 = 3e-3, k1 = 390, k2 = 50;
  const double h = 1e5;
  const AxisymmetricGrid grid = cylinder({0, r1, 1.2e-3, r2, 2e-3, r3}, {0, 1}, 0);
  // From the rim r1 to r2 and on to r3: halves of the cells that lie between.
  const double inside =
      grid.radial_outer(0) + grid.radial_inner(1) + grid.radial_outer(1) + grid.radial_inner(2);
  const double outside =
      grid.radial_outer(2) + grid.radial_inner(3) + grid.radial_outer(3) + grid.radial_inner(4);
  const double contact = 1 / (h * grid.radial_area(2));
  EXPECT_NEAR_RELATIVE(100 / (inside / k1 + contact + outside / k2), 29130.2716231, 1e-10);
}

// Heated cylinder, surface held: the discrete solution is Ts + g (R^2 - r_i^2)/(4 k) + g
// dr^2/(16 k), a uniform offset from the exact parabola (Carslaw & Jaeger, 7.9, from memory).
TEST(Diffusion, heated_cylinder_is_the_parabola_plus_a_known_offset) {
  const double R = 1e-3, g = 1e11, k = 50, Ts = 300;
  const int cells = 10;
  const AxisymmetricGrid grid = cylinder(even_edges(0, R, cells), {0, 2e-3});
  const auto n = static_cast<Index>(grid.cells());
  FaceConductances faces;
  set_faces(grid, {0, 1}, Field::Constant(n, k), Field::Constant(n, k), faces);
  Field b(n);
  for (Index i = 0; i < n; ++i) b[i] = g * grid.volume(static_cast<std::size_t>(i));
  faces.boundary[n - 1] = k / grid.radial_inner(static_cast<std::size_t>(n) - 1);
  b[n - 1] += faces.boundary[n - 1] * Ts;
  const Field T = solved(faces, b);
  const double dr = R / cells;
  for (Index i = 0; i < n; ++i) {
    const double r = grid.r_centre(static_cast<std::size_t>(i));
    EXPECT_NEAR(T[i], Ts + g * (R * R - r * r) / (4 * k) + g * dr * dr / (16 * k), 1e-8);
  }
  EXPECT_NEAR(T[0] - Ts, 500, 1e-8);
  EXPECT_NEAR(T[9] - Ts, 50, 1e-8);
}

TEST(Diffusion, a_cell_without_conductivity_neither_gives_nor_takes) {
  const AxisymmetricGrid grid = cylinder(even_edges(0, 1e-3, 3), even_edges(0, 1e-3, 3));
  Field k = Field::Ones(9);
  k[4] = 0;
  FaceConductances faces;
  set_faces(grid, {0, 3}, k, k, faces);
  EXPECT_EQ(faces.radial[3] + faces.radial[4] + faces.axial[1] + faces.axial[4], 0);
  EXPECT_GT(faces.radial[0], 0);
}

TEST(Diffusion, a_range_of_rows_is_numbered_from_its_first) {
  const AxisymmetricGrid grid =
      cylinder(random_edges(0, 1e-3, 4, 21), random_edges(0, 1e-3, 6, 22));
  std::mt19937 random(23);
  std::uniform_real_distribution<double> value(0.1, 1);
  Field k(24);
  for (double& x : k) x = value(random);
  FaceConductances whole, upper;
  set_faces(grid, {0, 6}, k, k, whole);
  set_faces(grid, {2, 4}, k.tail(16), k.tail(16), upper);
  for (Index c = 0; c < 16; ++c) {
    EXPECT_DOUBLE_EQ(upper.radial[c], whole.radial[c + 8]);
    EXPECT_DOUBLE_EQ(upper.axial[c], whole.axial[c + 8]);
  }
}

}  // namespace
}  // namespace tabmelt
