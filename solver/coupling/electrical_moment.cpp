#include "solver/coupling/electrical_moment.h"

#include <algorithm>
#include <utility>

namespace tabmelt {

ElectricalMoments::Middle ElectricalMoments::middle_of(const StepRecord& r) {
  return {r.time - 0.5 * r.step, r.load_resistance, r.base_share, r.spots};
}

void ElectricalMoments::move(StepRecord& r, const Middle& a, const Middle& b) {
  const double weight = (r.time - a.time) / (b.time - a.time);
  const auto at = [&](double first, double second) {
    return std::clamp(first + weight * (second - first), 0.0, 2 * std::max(first, second));
  };
  r.load_resistance = at(a.load_resistance, b.load_resistance);
  r.load_voltage = r.load_resistance * r.current;
  r.base_share = std::min(1.0, at(a.base_share, b.base_share));
  for (std::size_t n = 0; n < r.spots.size(); ++n) {
    SpotRecord& spot = r.spots[n];
    const SpotRecord &first = a.spots[n], &second = b.spots[n];
    spot.force = at(first.force, second.force);
    spot.resistance = at(first.resistance, second.resistance);
    for (std::size_t p = 0; p < spot.contacts.size(); ++p) {
      const ContactRecord &c = first.contacts[p], &d = second.contacts[p];
      spot.contacts[p] = {at(c.resistance, d.resistance), at(c.voltage, d.voltage),
                          at(c.true_area, d.true_area)};
    }
  }
}

void ElectricalMoments::add(StepRecord* before, StepRecord& now) {
  Middle middle = middle_of(now);
  if (last_) {
    if (before) move(*before, *last_, middle);
    move(now, *last_, middle);
  }
  last_ = std::move(middle);
}

}  // namespace tabmelt
