// A manufactured field on two bodies in contact, conductivities that depend on temperature, heat
// released where they touch, on a grid graded towards the contact.
//
// Exact by construction (Roache, J. Fluids Eng. 124 (2002) 4). Below z = 0 th1, above it th2, each
// as in tests/support/manufactured_conduction.h with its own A, k0 and b. With F1 and F2 the fluxes
// that reach and leave the contact, half of its heat q on each surface means
//
//   q = F2 - F1,   h (th1 - th2) = (F1 + F2)/2
//
// The squares of the fields in F1 + F2 cancel for one b of the upper body, and one h is left; q
// changes along the contact and in time.
// Catches: a contact that sees the cells' temperatures instead of the surfaces', its conductivities
// taken from one side or at the start of a step, its heat shared by anything but resistances.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/manufactured_conduction.h"
#include "tests/support/order_of_accuracy.h"
#include "tests/verification/heated_body.h"

namespace tabmelt {
namespace {

constexpr double base = 500;  // [K]
constexpr double R = 1e-3, H = 8e-4, decay = 2e-3;

struct Contacting {
  exact::ManufacturedConduction lower{R, H, 400, decay, 60, -2e-4, 4e6};
  exact::ManufacturedConduction upper{R, H, 60, decay, 90, 0, 3.5e6};
  double h = 0;

  Contacting() {
    const double q = M_PI / (3 * H), below = M_PI / 3 + 0.3, above = 0.3;
    upper.slope =
        -lower.conductivity * lower.slope * std::pow(lower.amplitude, 2) * std::cos(below) *
        std::sin(below) /
        (upper.conductivity * std::pow(upper.amplitude, 2) * std::cos(above) * std::sin(above));
    h = q *
        (lower.conductivity * lower.amplitude * std::sin(below) +
         upper.conductivity * upper.amplitude * std::sin(above)) /
        (2 * (lower.amplitude * std::cos(below) - upper.amplitude * std::cos(above)));
  }
  double theta(double r, double z, double t) const {
    return z < 0 ? lower.theta(r, z + H, t) : upper.theta(r, z, t);
  }
  double source(double r, double z, double t) const {
    return z < 0 ? lower.source(r, z + H, t) : upper.source(r, z, t);
  }
  double flux_r(double r, double z, double t) const {
    return z < 0 ? lower.flux_r(r, z + H, t) : upper.flux_r(r, z, t);
  }
  double released(double r, double t) const {
    return upper.flux_z(r, 0, t) - lower.flux_z(r, H, t);
  }
};

Material metal(const exact::ManufacturedConduction& body) {
  Material m;
  m.name = "straight conductivity";
  m.density = 1;
  m.specific_heat = Curve::constant(body.heat_capacity);
  m.thermal_conductivity = {
      {base - 100, base + 500},
      {body.conductivity * (1 - 100 * body.slope), body.conductivity * (1 + 500 * body.slope)}};
  return m;
}

double error_of(int cells) {
  const Contacting field;
  const double ratio = std::pow(3.0, 1.0 / cells);
  std::vector<double> z;
  const std::vector<double> away = geometric_edges(H, cells, ratio);
  for (auto e = away.rbegin(); e != away.rend(); ++e) z.push_back(-*e);
  z.back() = 0;
  z.insert(z.end(), away.begin() + 1, away.end());
  const mesh::AxisymmetricGrid grid(geometric_edges(R, cells, ratio), z,
                                    {{"lower", 1, -H, 0, R, R}, {"upper", 2, 0, H, R, R}});
  HeatedBody body(grid, {metal(field.lower), metal(field.upper)}, base);
  body.start_from([&](double r, double height) { return base + field.theta(r, height, 0); });
  body.touch(0, field.h, [&](double r, double t) { return field.released(r, t); });
  const double end = 2e-3;
  body.march(graded_moments(end, 4 * cells, 1), [&](double t, Field& heat) {
    const auto at = [&](std::size_t i, std::size_t j) -> double& {
      return heat[static_cast<Eigen::Index>(grid.index(i, j))];
    };
    for (std::size_t j = 0; j < grid.nz(); ++j) {
      for (std::size_t i = 0; i < grid.nr(); ++i)
        at(i, j) +=
            field.source(grid.r_centre(i), grid.z_centre(j), t) * grid.volume(grid.index(i, j));
      const std::size_t rim = grid.nr() - 1;
      at(rim, j) -= field.flux_r(R, grid.z_centre(j), t) * grid.radial_area(grid.index(rim, j));
    }
    for (std::size_t i = 0; i < grid.nr(); ++i) {
      const double area = grid.ring_area_inside(i, 1), r = grid.r_centre(i);
      at(i, 0) += field.lower.flux_z(r, 0, t) * area;
      at(i, grid.nz() - 1) -= field.upper.flux_z(r, H, t) * area;
    }
  });
  return body.mean_square_error(
      [&](double r, double height) { return base + field.theta(r, height, end); });
}

// The construction itself: both surfaces of the contact balance everywhere along it, at any time.
TEST(ManufacturedContact, surfaces_balance) {
  const Contacting field;
  for (const double r : {0.0, 0.3e-3, 0.9e-3}) {
    for (const double t : {0.0, 1e-3, 2e-3}) {
      const double crossing = field.h * (field.lower.theta(r, H, t) - field.upper.theta(r, 0, t));
      const double half = 0.5 * field.released(r, t), scale = std::abs(crossing);
      EXPECT_NEAR(field.lower.flux_z(r, H, t) + half, crossing, 1e-10 * scale);
      EXPECT_NEAR(crossing + half, field.upper.flux_z(r, 0, t), 1e-10 * scale);
    }
  }
}

TEST(ManufacturedContact, second_order_on_a_graded_grid) {
  const auto study = order_in_cells({8, 16, 32}, error_of);
  EXPECT_TRUE(order_within(study, 2, 0.15));
  EXPECT_LE(study.error.back(), 1e-3 * 400);
}

}  // namespace
}  // namespace tabmelt
