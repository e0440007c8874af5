#include "solver/pressing/landing.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "solver/material/constants.h"
#include "solver/pressing/flight.h"

namespace tabmelt {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();
// A time that misses an event by round-off counts as that event.
constexpr double round_off = 1e-12;

void require(bool sound, const char* message) {
  if (!sound) throw std::invalid_argument(message);
}

}  // namespace

double hertz_impact_time(double mass, double radius, double modulus, double speed) {
  return 2.87 * std::pow(mass * mass / (radius * modulus * modulus * speed), 0.2);
}

Landing::Landing(const LandingMotion& motion) : motion_(motion) {
  require(motion.holding_force > 0 && motion.stiffness > 0 && motion.speed > 0,
          "a landing tip needs speed, stiffness and holding force");
  require(motion.mass >= 0, "the mass of a tip must not be negative");
  require(motion.restitution >= 0 && motion.restitution < 1, "restitution must be in [0, 1)");
  if (motion.mass == 0) {
    touches_.push_back({0, never, motion.speed, 0, 0});
    return;
  }
  require(motion.impact_time > 0 && motion.parting_height > 0,
          "a tip with mass needs an impact time and a parting height");
  const TipMotion tip{motion.mass, motion.stiffness, motion.speed, motion.holding_force};
  double time = 0, speed = motion.speed;
  while (true) {
    Touch touch;
    touch.begin = time;
    touch.impact_speed = speed;
    touch.impact_time = motion.impact_time * std::pow(motion.speed / speed, 0.2);
    touch.end = time + touch.impact_time;
    const double leaving = motion.restitution * speed;
    if (leaving > 0) {
      const Flight flight(tip, touch.end, leaving);
      if (flight.rise() > motion.parting_height) {
        touch.impulse = motion.mass * (speed + leaving);
        touches_.push_back(touch);
        time = touch.end + flight.duration();
        speed = flight.landing_speed();
        continue;
      }
    }
    touch.impulse = motion.mass * speed;
    touch.end = never;
    touches_.push_back(touch);
    return;
  }
}

const Touch* Landing::touch_at(double t) const {
  const double at = t * (1 + round_off);
  for (auto touch = touches_.rbegin(); touch != touches_.rend(); ++touch)
    if (touch->begin <= at) return at < touch->end ? &*touch : nullptr;
  return nullptr;
}

double Landing::spring_force(double t) const {
  return std::min(motion_.holding_force, motion_.stiffness * motion_.speed * t);
}

double Landing::force(double t) const {
  const Touch* touch = touch_at(t);
  if (!touch) return 0;
  const double spring = spring_force(t);
  const double since = t - touch->begin;
  if (!(touch->impulse > 0) || since >= touch->impact_time) return spring;
  constexpr double pi = constants::pi;
  return spring + touch->impulse * pi / (2 * touch->impact_time) *
                      std::sin(pi * std::max(since, 0.0) / touch->impact_time);
}

double Landing::firmest(double t) const {
  const Touch* touch = touch_at(t);
  if (!touch) return 0;
  const double peak = touch->begin + 0.5 * touch->impact_time;
  return std::max(force(t), t > peak ? force(peak) : 0.0);
}

std::optional<Touch> Landing::impact_at(double t) const {
  const Touch* touch = touch_at(t);
  if (!touch || !(touch->impulse > 0)) return std::nullopt;
  if (t * (1 + round_off) >= touch->begin + touch->impact_time) return std::nullopt;
  return *touch;
}

}  // namespace tabmelt
