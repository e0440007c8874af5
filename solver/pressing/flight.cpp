#include "solver/pressing/flight.h"

#include <cmath>
#include <limits>

namespace tabmelt {
namespace {

// Halves until both ends are neighbours in round-off: the sign of `f` is positive at `low`.
template <typename F>
double sign_change(double low, double high, const F& f) {
  for (int n = 0; n < 200; ++n) {
    const double middle = 0.5 * (low + high);
    if (middle <= low || middle >= high) break;
    (f(middle) > 0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

Flight::Flight(const TipMotion& motion, double start, double take_off)
    : motion_(motion),
      start_(start),
      take_off_(take_off),
      frequency_(std::sqrt(motion.stiffness / motion.mass)),
      full_(motion.holding_force / motion.stiffness),
      y0_(motion.speed * start),
      rate0_(motion.speed + take_off) {
  constexpr double never = std::numeric_limits<double>::infinity();
  if (y0_ >= full_) {
    hold_begin_ = 0;
    hold_y_ = y0_;
    hold_v_ = rate0_;
  } else {
    const double swing = std::hypot(y0_, rate0_ / frequency_);
    if (swing > full_) {
      hold_begin_ = (std::asin(full_ / swing) - std::asin(y0_ / swing)) / frequency_;
      hold_y_ = full_;
      hold_v_ = frequency_ * std::sqrt(swing * swing - full_ * full_);
    } else {
      hold_begin_ = hold_y_ = hold_v_ = never;
    }
  }
  if (hold_begin_ < never) {
    const double pull = motion.holding_force / motion.mass;
    hold_end_ = hold_begin_ +
                (hold_v_ + std::sqrt(hold_v_ * hold_v_ + 2 * pull * (hold_y_ - full_))) / pull;
  } else {
    hold_end_ = never;
  }
  duration_ = find_duration();
}

double Flight::compression(double s) const {
  if (s < hold_begin_) {
    const double angle = frequency_ * s;
    return y0_ * std::cos(angle) + rate0_ / frequency_ * std::sin(angle);
  }
  const double pull = motion_.holding_force / motion_.mass;
  if (s <= hold_end_) {
    const double h = s - hold_begin_;
    return hold_y_ + h * (hold_v_ - 0.5 * pull * h);
  }
  const double rate_there = hold_v_ - pull * (hold_end_ - hold_begin_);
  const double angle = frequency_ * (s - hold_end_);
  return full_ * std::cos(angle) + rate_there / frequency_ * std::sin(angle);
}

double Flight::rate(double s) const {
  if (s < hold_begin_) {
    const double angle = frequency_ * s;
    return rate0_ * std::cos(angle) - y0_ * frequency_ * std::sin(angle);
  }
  const double pull = motion_.holding_force / motion_.mass;
  if (s <= hold_end_) return hold_v_ - pull * (s - hold_begin_);
  const double rate_there = hold_v_ - pull * (hold_end_ - hold_begin_);
  const double angle = frequency_ * (s - hold_end_);
  return rate_there * std::cos(angle) - full_ * frequency_ * std::sin(angle);
}

double Flight::height(double s) const { return compression(s) - motion_.speed * (start_ + s); }

double Flight::speed(double s) const { return rate(s) - motion_.speed; }

double Flight::landing_speed() const { return y0_ >= full_ ? take_off_ : -speed(duration_); }

double Flight::rise() const {
  return height(sign_change(0, duration_, [this](double s) { return speed(s); }));
}

double Flight::find_duration() const {
  // No flight is shorter than under the full force, and none has it longer than one that does.
  const double shortest = 2 * take_off_ * motion_.mass / motion_.holding_force;
  if (y0_ >= full_) return shortest;
  double low = 0.5 * shortest, high = shortest;
  while (height(high) > 0) {
    low = high;
    high *= 1.5;
  }
  return sign_change(low, high, [this](double s) { return height(s); });
}

}  // namespace tabmelt
