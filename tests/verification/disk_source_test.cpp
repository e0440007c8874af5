// Heat of even density through a disk on a half-space: the field under an electrode's face.
//
// Exact: Carslaw & Jaeger, 2nd ed. (1959), section 10.5 (number from memory), in
// tests/support/disk_source.h.
// Catches: ring areas of a wrong power, a disk wider or narrower by a cell, a false term on the
// axis, gradings that spoil the order.
#include "tests/support/disk_source.h"

#include <gtest/gtest.h>

#include <cmath>

#include "mesh/spacing.h"
#include "tests/support/columns.h"
#include "tests/support/near.h"
#include "tests/support/order_of_accuracy.h"
#include "tests/verification/heated_body.h"

namespace tabmelt {
namespace {

const exact::UniformSolid steel{50, 7850, 500};  // round numbers
constexpr double q = 1e8, a = 5e-4, cold = 300;
const exact::DiskSource disk{steel, q, a};

// The surface is the bottom of the grid. At resolution 1 cells are a tenth of the disk at the axis,
// 1/20 at its edge and at the surface, and grow by an eighth of the distance from there.
HeatedBody heated(double time, double resolution, int steps) {
  const double far = a + 7 * std::sqrt(steel.diffusivity() * time);
  mesh::Spacing r, z;
  r.fixed = {0, a, far};
  r.features = {{0, a / 10}, {a, a / 20}};
  r.growth = 0.12;
  r.largest = far / 6;
  r.resolution = resolution;
  z = r;
  z.fixed = {0, far - a};
  z.features = {{0, a / 20}};
  HeatedBody body(full_cylinder(mesh::graded_edges(r), mesh::graded_edges(z)),
                  {constant_metal(steel)}, cold);
  body.march(graded_moments(time, steps, 3), [&](double, Field& heat) {
    for (std::size_t i = 0; i < body.grid().nr(); ++i)
      heat[static_cast<Eigen::Index>(i)] += q * body.grid().ring_area_inside(i, a);
  });
  return body;
}

// Rise of the surface in column i: the half cell above carries the flux.
double surface(const HeatedBody& body, std::size_t i) {
  const bool inside = body.grid().r_centre(i) < a;
  return body.T_at(i, 0) - cold + (inside ? q * body.grid().dz(0) / (2 * steel.conductivity) : 0);
}

// On the axis, from the two innermost rings (a parabola in r).
double on_axis(const HeatedBody& body, double first, double second) {
  const double r0 = body.grid().r_centre(0), r1 = body.grid().r_centre(1);
  return first - (second - first) * r0 * r0 / (r1 * r1 - r0 * r0);
}

double mean(const HeatedBody& body) {
  double sum = 0;
  for (std::size_t i = 0; body.grid().r_centre(i) < a; ++i)
    sum += surface(body, i) * body.grid().ring_area_inside(i, a);
  return sum / mesh::AxisymmetricGrid::disc_area(a);
}

TEST(DiskSource, centre_and_mean_of_the_disk) {
  for (const double time : {1e-3, 1e-2}) {
    const HeatedBody body = heated(time, 5, 60);
    EXPECT_NEAR_RELATIVE(on_axis(body, surface(body, 0), surface(body, 1)), disk.axis_rise(0, time),
                         1e-3);
    EXPECT_NEAR_RELATIVE(mean(body), disk.mean_rise(time), 1e-3);
  }
}

TEST(DiskSource, down_the_axis_and_along_the_surface) {
  const double time = 1e-2;
  const HeatedBody body = heated(time, 3, 100);
  const double centre = disk.axis_rise(0, time);
  for (const double z : {1e-4, 5e-4, 1e-3}) {
    const std::size_t j = body.grid().row_at(z);
    EXPECT_NEAR(on_axis(body, body.T_at(0, j), body.T_at(1, j)) - cold,
                disk.axis_rise(body.grid().z_centre(j), time), 1e-3 * centre);
  }
  for (const double r : {2.5e-4, 4.8e-4, 5.3e-4, 1e-3}) {
    const std::size_t i = test::column_at(body.grid(), r);
    EXPECT_NEAR(surface(body, i), disk.surface_rise(body.grid().r_centre(i), time), 3e-3 * centre);
  }
}

TEST(DiskSource, centre_is_second_order_in_space) {
  const double time = 3e-3, exact = disk.axis_rise(0, time);
  const auto study = order_in_steps({1, 0.5, 0.25}, [&](double h) {
    const HeatedBody body = heated(time, 1 / h, 150);
    return std::abs(on_axis(body, surface(body, 0), surface(body, 1)) - exact);
  });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

TEST(DiskSource, mean_is_second_order_in_space) {
  const double time = 3e-3, exact = disk.mean_rise(time);
  const auto study = order_in_steps(
      {1, 0.5, 0.25}, [&](double h) { return std::abs(mean(heated(time, 1 / h, 150)) - exact); });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

}  // namespace
}  // namespace tabmelt
