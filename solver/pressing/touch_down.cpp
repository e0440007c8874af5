#include "solver/pressing/touch_down.h"

#include <algorithm>
#include <cmath>

namespace tabmelt {
namespace {

constexpr double no_end = std::numeric_limits<double>::infinity();
// Steps over one impact, at least.
constexpr double steps_per_impact = 16;
// Where the contact law knows no roughness: of ground and rolled surfaces. [m]
constexpr double usual_roughness = 1e-6;

Landing landing_of(const Problem& p) {
  LandingMotion motion;
  motion.holding_force = p.pressing.force;
  motion.stiffness = p.pressing.tip_stiffness;
  motion.speed = p.pressing.approach_speed;
  motion.mass = p.pressing.moving_mass;
  motion.restitution = p.pressing.restitution;
  motion.impact_time = p.pressing.impact_time;
  motion.parting_height = p.under_tip().yields() ? p.under_tip().roughness : usual_roughness;
  return Landing(motion);
}

}  // namespace

TouchDown::TouchDown(const Problem& p) : holding_force_(p.pressing.force), ahead_{0} {
  if (p.pressing.closing != Closing::unswitched) return;
  landing_ = landing_of(p);
  if (!p.pressing.unlike_tips()) return;
  const double wait = p.pressing.height_difference / p.pressing.approach_speed;
  ahead_ = p.pressing.judged == JudgedTip::lands_second ? std::vector<double>{0, wait}
                                                        : std::vector<double>{wait, 0};
}

bool TouchDown::touching(std::size_t tip, double time) const {
  return !landing_ || landing_->touching(own(tip, time));
}

bool TouchDown::all_touch(double time) const {
  for (std::size_t tip = 0; tip < tips(); ++tip)
    if (!touching(tip, time)) return false;
  return true;
}

double TouchDown::force(std::size_t tip, double time) const {
  return landing_ ? landing_->force(own(tip, time)) : holding_force_;
}

double TouchDown::firmest(std::size_t tip, double time) const {
  return landing_ ? landing_->firmest(own(tip, time)) : holding_force_;
}

std::vector<double> TouchDown::event_times() const {
  std::vector<double> times;
  if (!landing_) return times;
  for (std::size_t tip = 0; tip < tips(); ++tip) {
    for (const Touch& touch : landing_->touches()) {
      for (const double event : {touch.begin, touch.begin + touch.impact_time, touch.end}) {
        const double time = event - ahead_[tip];
        if (time > 0 && std::isfinite(time)) times.push_back(time);
      }
    }
  }
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

double TouchDown::longest_step(double time) const {
  double longest = no_end;
  if (!landing_) return longest;
  for (std::size_t tip = 0; tip < tips(); ++tip)
    if (const auto impact = landing_->impact_at(own(tip, time)))
      longest = std::min(longest, impact->impact_time / steps_per_impact);
  return longest;
}

int TouchDown::bounces(std::size_t tip, double until) const {
  if (!landing_) return 0;
  const auto& touches = landing_->touches();
  return static_cast<int>(std::count_if(touches.begin(), touches.end(), [&](const Touch& touch) {
    return touch.end <= own(tip, until);
  }));
}

}  // namespace tabmelt
