#include "solver/verdict/strength.h"

#include <gtest/gtest.h>

#include "synthetic_weld.h"

namespace tabmelt {
namespace {

using synthetic::metal;
using synthetic::nickel_on_can;

// Worked by hand: t = 0.15 mm, d = 0.8 mm, tau = 250 MPa, UTS = 400 MPa.
//   pi/4 (0.8e-3)^2 250e6 = 125.66 N,   2.5 0.8e-3 0.15e-3 400e6 = 120 N
TEST(Strength, matches_the_hand_calculation) {
  EXPECT_NEAR(interfacial_shear(0.8e-3, 250e6), 125.66, 0.01);
  EXPECT_NEAR(button_pull_out(0.8e-3, 0.15e-3, 400e6), 120, 1e-9);
}

// SAE 1010 sheet of about 310 MPa, fused zone and lap strength: AWS/RWMA table of recommended
// practice for spot-welding low-carbon steel (read in a copy).
TEST(Strength, lap_strength_of_handbook_welds_within_a_fifth) {
  const struct {
    double thickness, nugget, newtons;
  } table[] = {{0.254e-3, 2.87e-3, 578}, {0.533e-3, 3.53e-3, 1334}, {0.787e-3, 4.09e-3, 2358}};
  for (const auto& row : table)
    EXPECT_NEAR(button_pull_out(row.nugget, row.thickness, 310e6), row.newtons, 0.2 * row.newtons);
}

TEST(Strength, spot_takes_the_weaker_way_and_a_fifth_in_peel) {
  Problem p = nickel_on_can();
  p.top().material = metal(793, 1728, 3186, 400e6);
  p.base().material = p.top().material;
  EXPECT_NEAR(spot_strength(p, 0, 0.9e-3).shear, 135, 0.01);
  EXPECT_NEAR(spot_strength(p, 0, 0.9e-3).peel, 27, 0.01);
  EXPECT_NEAR(spot_strength(p, 0, 0.3e-3).shear, interfacial_shear(0.3e-3, 240e6), 1e-9);
}

TEST(Strength, weaker_metal_decides_the_shear_of_the_joint) {
  Problem p = nickel_on_can();
  p.base().material = metal(773, 1800, 3134, 100e6);
  EXPECT_NEAR(spot_strength(p, 0, 0.8e-3).shear, interfacial_shear(0.8e-3, 60e6), 1e-9);
}

TEST(Strength, is_zero_without_nugget_or_data) {
  Problem p = nickel_on_can();
  EXPECT_EQ(spot_strength(p, 0, 0).shear, 0);
  p.top().material = std::make_shared<Material>();
  EXPECT_EQ(spot_strength(p, 0, 0.8e-3).shear, 0);
  p.top().material.reset();
  EXPECT_EQ(spot_strength(p, 0, 0.8e-3).peel, 0);
}

TEST(Strength, smallest_nugget_follows_thickness_above_its_floor) {
  EXPECT_DOUBLE_EQ(smallest_good_nugget(0.1e-3), 0.45e-3);
  EXPECT_DOUBLE_EQ(smallest_good_nugget(0.15e-3), 0.6e-3);
  EXPECT_DOUBLE_EQ(smallest_good_nugget(0.3e-3), 1.2e-3);
}

}  // namespace
}  // namespace tabmelt
