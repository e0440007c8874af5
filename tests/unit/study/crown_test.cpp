#include "solver/study/crown.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tabmelt {
namespace {

// Sagitta of a sphere: R - sqrt(R^2 - a^2); 51 mm over 0.75 mm is 5.5 um.
TEST(Crown, is_the_height_of_the_cap) {
  Electrode e;
  e.tip_radius = 0.75e-3;
  e.face_radius = 51e-3;
  EXPECT_NEAR(crown(e), 5.515e-6, 0.001e-6);
  e.face_radius = INFINITY;
  EXPECT_EQ(crown(e), 0);
}

TEST(Crown, rounder_tips_and_measured_contacts_need_no_second_look) {
  Problem p;
  p.electrode.tip_radius = 0.75e-3;
  p.electrode.face_radius = 7.5e-3;
  EXPECT_FALSE(crown_warning(p));
  p.electrode.face_radius = 51e-3;
  p.under_tip().fixed.emplace();
  EXPECT_FALSE(crown_warning(p));
}

}  // namespace
}  // namespace tabmelt
