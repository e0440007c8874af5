// Slab, cylinder and short cylinder whose surface is suddenly held at another temperature; a
// cylinder heated from within.
//
// Exact: Fourier and Bessel series of Carslaw & Jaeger, 2nd ed. (1959), sections 3.3, 7.6, 7.9 and
// 1.15 (numbers from memory), in tests/support/slab.h and cylinder.h.
// Catches: a wrong half distance at a held face or rim, a false term on the axis, a scheme that
// loses its order after a sudden start.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/cylinder.h"
#include "tests/support/near.h"
#include "tests/support/order_of_accuracy.h"
#include "tests/support/slab.h"
#include "tests/verification/heated_body.h"

namespace tabmelt {
namespace {

const exact::UniformSolid steel{50, 7850, 500}, copper{390, 8960, 390};  // round numbers
constexpr double cold = 300, hot = 400;  // temperatures are 300 K + 100 K theta

// Half of a slab: mid-plane insulated at the bottom, face held at the top.
HeatedBody slab_half(const exact::QuenchedSlab& slab, int cells, double time, int steps,
                     double power = 2) {
  HeatedBody body(column(even_edges(0, slab.half_thickness, cells)), {constant_metal(steel)}, hot);
  body.hold(HeatedBody::Side::top, cold);
  body.march(graded_moments(time, steps, power));
  return body;
}

double slab_error(const exact::QuenchedSlab& slab, int cells, double time, int steps) {
  return slab_half(slab, cells, time, steps).mean_square_error([&](double, double z) {
    return cold + (hot - cold) * slab.theta(z, time);
  });
}

TEST(QuenchedBodies, slab_as_its_series_says) {
  const exact::QuenchedSlab slab{steel, 1.5e-4};
  for (const double time : {5e-4, 2e-3}) {
    const HeatedBody body = slab_half(slab, 60, time, 200);
    double mean = 0;
    for (std::size_t j = 0; j < 60; ++j) {
      mean += (body.T_at(0, j) - cold) / (hot - cold) / 60;
      EXPECT_NEAR((body.T_at(0, j) - cold) / (hot - cold),
                  slab.theta(body.grid().z_centre(j), time), 5e-4);
    }
    EXPECT_NEAR_RELATIVE(mean, slab.mean_theta(time), 1e-3);
  }
}

TEST(QuenchedBodies, slab_is_second_order_in_space) {
  const exact::QuenchedSlab slab{steel, 1.5e-4};
  const auto study = order_in_cells({8, 16, 32, 64},
                                    [&](int cells) { return slab_error(slab, cells, 5e-4, 2000); });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

// Steps of equal length from a jump: the method damps what the jump excites.
TEST(QuenchedBodies, slab_is_second_order_in_time) {
  const exact::QuenchedSlab slab{steel, 1.5e-4};
  const double finest = slab_half(slab, 50, 1e-3, 4096, 1).T_at(0, 0);
  const auto study = order_in_cells({16, 32, 64, 128}, [&](int steps) {
    return std::abs(slab_half(slab, 50, 1e-3, steps, 1).T_at(0, 0) - finest);
  });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

// Time step and cell size shrink together: the error falls as it does for each alone.
TEST(QuenchedBodies, slab_is_second_order_in_both) {
  const exact::QuenchedSlab slab{steel, 1.5e-4};
  const auto study = order_in_cells(
      {10, 20, 40, 80}, [&](int cells) { return slab_error(slab, cells, 5e-4, cells); });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

double cylinder_error(int cells, double time, int steps) {
  const exact::QuenchedCylinder cylinder{copper, 1e-3};
  HeatedBody body(full_cylinder(even_edges(0, 1e-3, cells), {0, 1e-3}), {constant_metal(copper)},
                  hot);
  body.hold(HeatedBody::Side::rim, cold);
  body.march(graded_moments(time, steps));
  return body.mean_square_error(
      [&](double r, double) { return cold + (hot - cold) * cylinder.theta(r, time); });
}

TEST(QuenchedBodies, cylinder_is_second_order_in_space) {
  const auto study =
      order_in_cells({8, 16, 32, 64}, [](int cells) { return cylinder_error(cells, 2e-3, 2000); });
  EXPECT_TRUE(order_within(study, 2, 0.15));
  EXPECT_LE(study.error.back(), 1e-3 * (hot - cold));
}

TEST(QuenchedBodies, cylinder_is_second_order_in_both) {
  const auto study = order_in_cells({10, 20, 40, 80},
                                    [](int cells) { return cylinder_error(cells, 2e-3, cells); });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

// The product of the two above, 2 mm high; its middle plane is the bottom of the grid.
TEST(QuenchedBodies, short_cylinder_is_second_order) {
  const exact::QuenchedShortCylinder cylinder{copper, 1e-3, 2e-3};
  const double time = 2e-3;
  const auto study = order_in_cells({8, 16, 32}, [&](int cells) {
    HeatedBody body(full_cylinder(even_edges(0, 1e-3, cells), even_edges(0, 2e-3, 2 * cells)),
                    {constant_metal(copper)}, hot);
    body.hold(HeatedBody::Side::rim, cold);
    body.hold(HeatedBody::Side::top, cold);
    body.march(graded_moments(time, 4 * cells));
    return body.mean_square_error(
        [&](double r, double z) { return cold + (hot - cold) * cylinder.theta(r, z, time); });
  });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

TEST(QuenchedBodies, cylinder_heated_from_within_is_second_order) {
  const exact::HeatedCylinder cylinder{copper, 1e-3, 1e12};
  for (const double time : {5e-4, 5e-3}) {
    const auto study = order_in_cells({8, 16, 32, 64}, [&](int cells) {
      HeatedBody body(full_cylinder(even_edges(0, 1e-3, cells), {0, 1e-3}),
                      {constant_metal(copper)}, cold);
      body.hold(HeatedBody::Side::rim, cold);
      body.march(graded_moments(time, 1500), [&](double, Field& heat) {
        for (Eigen::Index c = 0; c < heat.size(); ++c)
          heat[c] += 1e12 * body.grid().volume(static_cast<std::size_t>(c));
      });
      return body.mean_square_error(
          [&](double r, double) { return cold + cylinder.rise(r, time); });
    });
    EXPECT_TRUE(order_within(study, 2, 0.15));
  }
}

}  // namespace
}  // namespace tabmelt
