// Limits of the yielding zone that have exact answers.
#include "solver/contact/indentation.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/material/constants.h"
#include "tests/support/near.h"

namespace tabmelt {
namespace {

using std::numbers::pi;

std::vector<double> edges() {
  std::vector<double> r{0};
  while (r.back() < 2e-3) r.push_back(r.back() + 1e-5);
  return r;
}

// Rows with these far edges and one hardness each.
YieldingSide side(const std::vector<double>& depth, const std::vector<double>& hardness) {
  YieldingSide s;
  s.depth = depth;
  for (const double H : hardness) {
    std::vector<double> load;
    for (const double r : edges()) load.push_back(pi * r * r * H);
    s.load.push_back(load);
  }
  return s;
}

// Johnson, Contact Mechanics (1985), eq. 4.22: a^3 = 3 F R/(4 E*). Worked by hand: 30 N, 7.5 mm,
// copper 120 GPa on nickel 204 GPa: E* = 83.02 GPa, a = 126.7 um.
TEST(Indentation, below_yield_is_hertz) {
  EXPECT_NEAR(hertz_radius(30, 7.5e-3, 120e9, 204e9), 126.7e-6, 0.1e-6);
  EXPECT_NEAR_RELATIVE(hertz_radius(80, 7.5e-3, 120e9, 204e9),
                       2 * hertz_radius(10, 7.5e-3, 120e9, 204e9), 1e-12);
  EXPECT_EQ(hertz_radius(30, 7.5e-3, 0, 0), 0);                   // both rigid
  EXPECT_TRUE(std::isinf(hertz_radius(30, INFINITY, 120e9, 0)));  // truly flat
}

// Meyer: one hardness everywhere, F = pi b^2 H.
TEST(Indentation, one_hardness_is_meyers_law) {
  const std::vector<YieldingSide> both{side({2e-3}, {1.6e9}), side({2e-3}, {1.5e9})};
  for (const double force : {1.0, 30.0, 900.0}) {
    EXPECT_NEAR_RELATIVE(yielding_radius(both, edges(), force, 2e-3),
                         indentation_radius(force, 1.5e9), 1e-5);
  }
  EXPECT_EQ(yielding_radius(both, edges(), 1e6, 2e-3), 2e-3);
  EXPECT_EQ(yielding_radius(both, edges(), 0, 2e-3), 0);
}

// Hill: a soft layer of thickness t under a stiff face bears (1 + 2 b/(3 sqrt 3 t)) times its flow
// stress H/3, never less than a half-space of it.
TEST(Indentation, thin_soft_layer_resists_more) {
  const double H = 0.3e9, t = 20e-6, b = 0.5e-3;
  const std::vector<YieldingSide> both{side({2e-3}, {50e9}), side({t, 2e-3}, {H, 50e9})};
  EXPECT_NEAR_RELATIVE(least_pressure(both, edges(), b),
                       H / 3 * (1 + 2 * b / (3 * std::sqrt(3.0) * t)), 1e-9);
  const std::vector<YieldingSide> thick{side({2e-3}, {50e9}), side({0.4e-3, 2e-3}, {H, 50e9})};
  EXPECT_NEAR_RELATIVE(least_pressure(thick, edges(), b), H, 1e-9);
}

// A cold skin over hot metal does not hold the face small: the mean down to the hot zone yields.
TEST(Indentation, hot_metal_under_a_cold_skin_lets_the_face_grow) {
  const double cold = 1.5e9, hot = 0.3e9;
  const std::vector<YieldingSide> skin{side({2e-3}, {cold}),
                                       side({50e-6, 300e-6, 2e-3}, {cold, hot, cold})};
  const double b = 0.25e-3;
  EXPECT_NEAR_RELATIVE(least_pressure(skin, edges(), b), (50 * cold + 200 * hot) / 250, 1e-9);
  EXPECT_GT(yielding_radius(skin, edges(), 30, 2e-3), 1.3 * indentation_radius(30, cold));
}

TEST(Indentation, grows_with_force_and_with_softness) {
  double before = 0;
  for (double force = 1; force < 2000; force *= 1.3) {
    const std::vector<YieldingSide> both{side({0.1e-3, 2e-3}, {1.2e9, 0.8e9}),
                                         side({0.05e-3, 0.15e-3, 2e-3}, {1.0e9, 0.2e9, 0.9e9})};
    const double b = yielding_radius(both, edges(), force, 2e-3);
    EXPECT_GE(b, before);
    before = b;
  }
  before = 0;
  for (double soft = 1e9; soft > 1e7; soft *= 0.7) {
    const std::vector<YieldingSide> both{side({2e-3}, {1.6e9}),
                                         side({0.05e-3, 0.15e-3, 2e-3}, {1e9, soft, 1e9})};
    const double b = yielding_radius(both, edges(), 30, 2e-3);
    EXPECT_GE(b, before);
    before = b;
  }
}

// The disc's mean counts: of a hot middle out to half the radius, a quarter of the area is hot.
TEST(Indentation, hardness_is_the_mean_over_the_disc) {
  YieldingSide s;
  s.depth = {2e-3};
  std::vector<double> load;
  for (const double r : edges()) {
    const double inner = std::min(r, 0.2e-3);
    load.push_back(pi * (inner * inner * 0.2e9 + (r * r - inner * inner) * 1e9));
  }
  s.load = {load};
  EXPECT_NEAR_RELATIVE(least_pressure({s}, edges(), 0.4e-3), 0.25 * 0.2e9 + 0.75 * 1e9, 1e-9);
}

}  // namespace
}  // namespace tabmelt
