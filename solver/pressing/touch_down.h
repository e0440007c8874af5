// Both tips of a pulse on the circuit's clock.
//
// The circuit's zero is the moment the second tip first touches: then the loop can close. The
// first tip touched height_difference/approach_speed earlier and has been pressed ever since. Each
// tip then follows the same landing, on a clock of its own. The loop is closed while both touch.
//
// Tips that land together are one tip, counted as often as there are spots. Behind a switch the
// tips rest on the strip at holding force.
#pragma once

#include <cstddef>
#include <limits>
#include <optional>
#include <vector>

#include "solver/pressing/landing.h"
#include "solver/problem/problem.h"

namespace tabmelt {

class TouchDown {
 public:
  // Throws as Landing does.
  explicit TouchDown(const Problem&);

  // Tips that differ: one, or two; [0] is the judged one.
  std::size_t tips() const { return ahead_.size(); }
  // How long before the circuit's zero it first touched [s].
  double ahead(std::size_t tip) const { return ahead_[tip]; }
  bool touching(std::size_t tip, double time) const;
  bool all_touch(double time) const;
  double force(std::size_t tip, double time) const;    // [N] without blow-off; 0 without touch
  double firmest(std::size_t tip, double time) const;  // [N] of the present touch so far
  // Times [s] above 0 at which a tip lands or leaves or an impact ends, increasing.
  std::vector<double> event_times() const;
  // A step from here should not be longer [s], to follow an impact under way.
  double longest_step(double time) const;
  // How often a tip has left the strip from its first touch up to this time.
  int bounces(std::size_t tip, double until) const;

 private:
  double own(std::size_t tip, double time) const { return time + ahead_[tip]; }

  double holding_force_;
  std::optional<Landing> landing_;  // nothing: behind a switch
  std::vector<double> ahead_;
};

}  // namespace tabmelt
