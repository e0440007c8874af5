#include <gtest/gtest.h>

#include "solver/verdict/strength.h"
#include "synthetic_weld.h"

namespace tabmelt {
namespace {

using synthetic::metal;
using synthetic::nickel_on_can;

// Worked by hand: t = 0.15 mm, d = 0.8 mm, tau = 250 MPa.
//   pi/4 (0.8e-3)^2 250e6 = 125.66 N,   pi 0.8e-3 0.15e-3 250e6 = 94.25 N
TEST(Strength, matches_the_hand_calculation) {
  EXPECT_NEAR(interfacial_shear(0.8e-3, 250e6), 125.66, 0.01);
  EXPECT_NEAR(button_pull_out(0.8e-3, 0.15e-3, 250e6), 94.25, 0.01);
}

TEST(Strength, tears_the_strip_beyond_four_thicknesses) {
  const double tau = 250e6, t = 0.15e-3;
  EXPECT_LT(interfacial_shear(3.99 * t, tau), button_pull_out(3.99 * t, t, tau));
  EXPECT_GT(interfacial_shear(4.01 * t, tau), button_pull_out(4.01 * t, t, tau));
}

TEST(Strength, spot_takes_the_weaker_way_and_a_fifth_in_peel) {
  Problem p = nickel_on_can();
  p.strip.material = metal(793, 1728, 3186, 250e6 / 0.6);
  p.can.material = p.strip.material;
  EXPECT_NEAR(spot_strength(p, 0.8e-3).shear, 94.25, 0.01);
  EXPECT_NEAR(spot_strength(p, 0.8e-3).peel, 18.85, 0.01);
  EXPECT_NEAR(spot_strength(p, 0.3e-3).shear, interfacial_shear(0.3e-3, 250e6), 1e-9);
}

TEST(Strength, weaker_metal_decides_the_shear_of_the_joint) {
  Problem p = nickel_on_can();
  p.can.material = metal(773, 1800, 3134, 100e6);
  EXPECT_NEAR(spot_strength(p, 0.8e-3).shear, interfacial_shear(0.8e-3, 60e6), 1e-9);
}

TEST(Strength, is_zero_without_nugget_or_data) {
  Problem p = nickel_on_can();
  EXPECT_EQ(spot_strength(p, 0).shear, 0);
  p.strip.material = std::make_shared<Material>();
  EXPECT_EQ(spot_strength(p, 0.8e-3).shear, 0);
  p.strip.material.reset();
  EXPECT_EQ(spot_strength(p, 0.8e-3).peel, 0);
}

TEST(Strength, smallest_nugget_follows_thickness_above_its_floor) {
  EXPECT_DOUBLE_EQ(smallest_good_nugget(0.1e-3), 0.45e-3);
  EXPECT_DOUBLE_EQ(smallest_good_nugget(0.15e-3), 0.6e-3);
  EXPECT_DOUBLE_EQ(smallest_good_nugget(0.3e-3), 1.2e-3);
}

}  // namespace
}  // namespace tabmelt
