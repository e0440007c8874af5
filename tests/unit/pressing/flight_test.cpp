// A tip in the air against its closed forms and against the conservation of energy.
#include "solver/pressing/flight.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace tabmelt {
namespace {

constexpr double mass = 0.02, speed = 0.05;

TEST(Flight, under_the_full_force_is_a_throw_straight_up) {
  const double force = 10, start = 1e-3, u = 0.02;
  // The spring is already past its full force when the tip leaves.
  const Flight flight({mass, 1e6, speed, force}, start, u);
  EXPECT_DOUBLE_EQ(flight.duration(), 2 * u * mass / force);
  EXPECT_DOUBLE_EQ(flight.landing_speed(), u);
  EXPECT_NEAR(flight.rise(), mass * u * u / (2 * force), 1e-15);
}

// y'' = -k/m y from y = 0, y' = v + u: lands where (v + u) sin(w T)/w = v T.
TEST(Flight, on_a_rising_force_follows_the_swing_of_its_spring) {
  const double stiffness = 2000, w = std::sqrt(stiffness / mass);
  for (const double e : {0.1, 0.5, 0.9}) {
    const double u = e * speed;
    const Flight flight({mass, stiffness, speed, 1e6}, 0, u);
    const double T = flight.duration();
    EXPECT_NEAR((speed + u) * std::sin(w * T) / (w * speed * T), 1, 1e-10) << e;
    EXPECT_NEAR(flight.landing_speed(), speed - (speed + u) * std::cos(w * T), 1e-12) << e;
    // Highest where the tip moves with the hand.
    const double top = std::acos(speed / (speed + u)) / w;
    EXPECT_NEAR(flight.rise(), flight.height(top), 1e-15) << e;
  }
}

// For a small take-off the force rises evenly: (w T)^2 = 6 e/(1 + e), with a remainder in e^2.
TEST(Flight, leaving_slowly_tends_to_the_force_that_rises_with_time) {
  const double stiffness = 2000, w = std::sqrt(stiffness / mass);
  double before = 0;
  for (const double e : {0.04, 0.02, 0.01}) {
    const Flight flight({mass, stiffness, speed, 1e6}, 0, e * speed);
    const double off = std::pow(w * flight.duration(), 2) * (1 + e) / (6 * e) - 1;
    if (before > 0) {
      EXPECT_NEAR(off / before, 0.5, 0.02) << e;
    }
    before = off;
  }
}

// In the frame of the hand nothing but the spring works on the tip, whether it swings, pushes with
// its full force, or swings again.
TEST(Flight, keeps_its_energy_in_the_frame_of_the_hand) {
  struct Case {
    double force, take_off;
  };
  const double stiffness = 2000;
  int swung_again = 0;
  // The last: thrown high enough to reach the full force and to lose it again before landing.
  for (const Case& c :
       {Case{0.12, 0.04}, {0.2, 0.04}, {0.3, 0.04}, {0.4, 0.04}, {5.0, 0.04}, {1.9, 0.4}}) {
    const double force = c.force, u = c.take_off;
    const double full = force / stiffness;
    const auto energy = [&](const Flight& flight, double s) {
      const double y = flight.compression(s), rate = flight.speed(s) + speed;
      const double spring = y < full ? 0.5 * stiffness * y * y : force * (y - 0.5 * full);
      return 0.5 * mass * rate * rate + spring;
    };
    for (const double start : {0.0, 5e-4, 1e-3, 2e-3}) {
      const Flight flight({mass, stiffness, speed, force}, start, u);
      const double at_first = energy(flight, 0);
      double most = 0;
      for (int n = 1; n <= 20; ++n) {
        const double s = flight.duration() * n / 20;
        EXPECT_NEAR(energy(flight, s) / at_first, 1, 1e-12) << force << " " << start << " " << n;
        most = std::max(most, flight.compression(s));
      }
      if (most > full && flight.compression(flight.duration()) < full) ++swung_again;
      EXPECT_EQ(flight.height(0), 0);
      EXPECT_NEAR(flight.height(flight.duration()), 0, 1e-15);
      EXPECT_GT(flight.height(0.5 * flight.duration()), 0);
    }
  }
  EXPECT_GT(swung_again, 0);
}

// Impulse of the spring over the flight = change of momentum.
TEST(Flight, spring_turns_the_tip_round) {
  const double stiffness = 2000, force = 0.3, u = 0.04;
  const Flight flight({mass, stiffness, speed, force}, 1e-3, u);
  const int n = 20000;
  double sum = 0;
  for (int i = 0; i < n; ++i)
    sum += std::min(force, stiffness * flight.compression(flight.duration() * (i + 0.5) / n));
  EXPECT_NEAR(sum * flight.duration() / n, mass * (u + flight.landing_speed()), 1e-9);
}

TEST(Flight, a_firmer_spring_brings_it_back_sooner) {
  double before = 1;
  for (const double stiffness : {500.0, 2000.0, 8000.0}) {
    const double duration = Flight({mass, stiffness, speed, 10}, 0, 0.02).duration();
    EXPECT_LT(duration, before);
    before = duration;
  }
}

}  // namespace
}  // namespace tabmelt
