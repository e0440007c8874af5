// A tip coming down: touches, bounces and the force on the strip.
#include "solver/pressing/landing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tabmelt {
namespace {

constexpr double hold = 10, fall = 0.05;

// Reaches the holding force within its first impact.
LandingMotion stiff(double mass, double restitution) {
  return {hold, 1e9, fall, mass, restitution, 1e-4, 1e-9};
}

LandingMotion sprung(double mass, double restitution) {
  return {hold, 2000, fall, mass, restitution, 2e-4, 1e-6};
}

TEST(Landing, without_mass_the_force_rises_with_the_travel) {
  const Landing landing(sprung(0, 0));
  EXPECT_EQ(landing.bounces(), 0);
  for (const double t : {0.0, 1e-6, 1e-3, 0.0999, 0.1001, 5.0}) {
    EXPECT_EQ(landing.force(t), std::min(hold, 2000 * fall * t)) << t;
    EXPECT_EQ(landing.firmest(t), landing.force(t)) << t;
    EXPECT_TRUE(landing.touching(t)) << t;
  }
  EXPECT_FALSE(landing.touching(-1e-9));
  EXPECT_EQ(landing.force(-1e-9), 0);
}

TEST(Landing, flights_under_the_holding_force_shrink_by_the_restitution) {
  const double mass = 0.02, e = 0.6;
  const Landing landing(stiff(mass, e));
  ASSERT_GE(landing.bounces(), 4);
  double u = fall;
  for (std::size_t n = 0; n < 4; ++n) {
    const Touch &touch = landing.touches()[n], &next = landing.touches()[n + 1];
    EXPECT_NEAR(touch.impact_speed, u, 1e-12);
    u *= e;
    EXPECT_NEAR(next.begin - touch.end, 2 * u * mass / hold, 1e-15) << n;
    // Each impact keeps e^2 of the energy.
    EXPECT_NEAR(std::pow(next.impact_speed / touch.impact_speed, 2), e * e, 1e-12) << n;
    // Hertz: slower impacts last longer.
    EXPECT_NEAR(next.impact_time / touch.impact_time, std::pow(e, -0.2), 1e-12) << n;
  }
}

// It stays once it would rise less than the parting height: m (e^n v)^2/(2 F).
TEST(Landing, bounces_until_the_flights_are_parts_of_the_roughness) {
  LandingMotion motion = stiff(0.02, 0.5);
  motion.speed = 0.2;  // rises 10, 2.5, 0.625 um
  for (const auto& [height, bounces] :
       {std::pair{11e-6, 0}, std::pair{9e-6, 1}, std::pair{2.6e-6, 1}, std::pair{2.4e-6, 2},
        std::pair{0.6e-6, 3}}) {
    motion.parting_height = height;
    EXPECT_EQ(Landing(motion).bounces(), bounces) << height;
  }
}

TEST(Landing, comes_to_rest_however_lively_it_is) {
  for (const double e : {0.1, 0.5, 0.8, 0.95}) {
    for (const double mass : {1e-4, 0.02, 1.0}) {
      for (const double stiffness : {100.0, 2000.0, 1e8}) {
        const Landing landing({hold, stiffness, fall, mass, e, 2e-4, 1e-6});
        ASSERT_FALSE(landing.touches().empty());
        EXPECT_TRUE(std::isinf(landing.touches().back().end));
        EXPECT_LT(landing.bounces(), 400) << e << " " << mass << " " << stiffness;
        for (std::size_t n = 0; n + 1 < landing.touches().size(); ++n) {
          EXPECT_LT(landing.touches()[n].begin, landing.touches()[n].end);
          EXPECT_LT(landing.touches()[n].end, landing.touches()[n + 1].begin);
        }
        EXPECT_EQ(landing.force(1e3), hold);
      }
    }
  }
}

TEST(Landing, an_impact_takes_up_the_momentum) {
  const double mass = 0.02;
  for (const double e : {0.0, 0.3, 0.7}) {
    const Landing landing(sprung(mass, e));
    for (const Touch& touch : landing.touches()) {
      const int n = 2000;
      double impulse = 0;
      for (int i = 0; i < n; ++i) {
        const double t = touch.begin + touch.impact_time * (i + 0.5) / n;
        impulse += (landing.force(t) - landing.spring_force(t)) * touch.impact_time / n;
      }
      const double kept = std::isinf(touch.end) ? 0 : e;
      EXPECT_NEAR(impulse / ((1 + kept) * mass * touch.impact_speed), 1, 1e-5);
    }
  }
}

// Without restitution a heavy tip strikes once and stays.
TEST(Landing, a_heavy_tip_that_does_not_rebound_never_leaves) {
  const Landing landing(sprung(0.02, 0));
  EXPECT_EQ(landing.bounces(), 0);
  EXPECT_NEAR(landing.force(1e-4), 0.02 * fall * std::acos(-1.0) / (2 * 2e-4) + 2000 * fall * 1e-4,
              1e-9);
  EXPECT_EQ(landing.force(3e-4), 2000 * fall * 3e-4);
}

TEST(Landing,
     force_is_continuous_while_it_touches_and_bounded_by_the_holding_force_between_impacts) {
  const Landing landing(sprung(0.02, 0.5));
  ASSERT_GT(landing.bounces(), 1);
  const double end = landing.touches().back().begin + 0.2, dt = 1e-7;
  double before = 0;
  bool touched = false;
  for (double t = 0; t < end; t += dt) {
    const bool touches = landing.touching(t);
    const double force = landing.force(t);
    EXPECT_GE(force, 0);
    EXPECT_LE(landing.spring_force(t), hold);
    EXPECT_EQ(force > 0, touches && t > 0) << t;
    EXPECT_LE(force, landing.impact_at(t) ? 2 * hold : hold) << t;
    // No impact of this tip turns faster than m v pi^2/(2 t_c^2) (1 + e).
    const double steepest = 1.5 * 0.02 * fall * 4.94 / (2e-4 * 2e-4) + 2000 * fall;
    if (touches && touched) {
      ASSERT_LE(std::abs(force - before), 1.1 * steepest * dt) << t;
    }
    before = force;
    touched = touches;
  }
}

TEST(Landing, firmest_remembers_the_impact_of_this_touch_only) {
  const Landing landing(sprung(0.02, 0.5));
  const Touch& first = landing.touches()[0];
  const double peak = landing.force(first.begin + 0.5 * first.impact_time);
  EXPECT_EQ(landing.firmest(first.begin + 0.9 * first.impact_time), peak);
  EXPECT_EQ(landing.firmest(0.5 * (first.end + landing.touches()[1].begin)), 0);
  const double again = landing.touches()[1].begin + 0.01 * landing.touches()[1].impact_time;
  EXPECT_LT(landing.firmest(again), 0.5 * peak);
}

// Contact of a sphere on a plane: m x'' = -4/3 E* sqrt(r) x^1.5. With the deepest point
// d = (15 m v^2/(16 E* sqrt r))^(2/5) the impact lasts 2 d/v int_0^1 ds/sqrt(1 - s^2.5), whose
// integral is B(2/5, 1/2) 2/5.
TEST(Landing, hertz_impact_lasts_as_its_equation_of_motion_says) {
  const double mass = 0.02, radius = 1e-3, modulus = 65e9, v = 0.05;
  const double beta = std::tgamma(0.4) * std::tgamma(0.5) / std::tgamma(0.9);
  const double deepest = std::pow(15 * mass * v * v / (16 * modulus * std::sqrt(radius)), 0.4);
  const double time = hertz_impact_time(mass, radius, modulus, v);
  EXPECT_NEAR(time / (2 * deepest / v * 0.4 * beta), 1, 1e-3);
  EXPECT_NEAR(time, 2.06e-4, 1e-6);
}

TEST(Landing, refuses_what_cannot_land) {
  EXPECT_THROW(Landing({0, 2000, fall}), std::invalid_argument);
  EXPECT_THROW(Landing({hold, 0, fall}), std::invalid_argument);
  EXPECT_THROW(Landing({hold, 2000, 0}), std::invalid_argument);
  EXPECT_THROW(Landing(sprung(-0.01, 0)), std::invalid_argument);
  EXPECT_THROW(Landing(sprung(0.02, 1)), std::invalid_argument);
  EXPECT_THROW(Landing(sprung(0.02, -0.1)), std::invalid_argument);
  EXPECT_THROW(Landing({hold, 2000, fall, 0.02, 0.5, 0, 1e-6}), std::invalid_argument);
  EXPECT_THROW(Landing({hold, 2000, fall, 0.02, 0.5, 2e-4, 0}), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt
