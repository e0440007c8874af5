#include "solver/coupling/rounds.h"

#include <algorithm>

namespace tabmelt {
namespace {

constexpr int full_rounds = 2, half_rounds = 5;
constexpr double fall = 0.7, least_weight = 0.004;
constexpr double growing_share = 0.02;

}  // namespace

void Rounds::add(double load, double change, bool growing) {
  const double step = load - load_;
  const bool turns = step * step_ < 0;
  load_ = load;
  step_ = step;
  ++rounds_;
  if (rounds_ == full_rounds) weight_ = 0.5;
  const bool sinks =
      turns && !growing && rounds_ > full_rounds + half_rounds && weight_ > least_weight;
  if (sinks) weight_ = std::max(least_weight, fall * weight_);
  settled_ = rounds_ > 1 && change < (growing ? growing_share : 1) * tolerance_;
  const bool headway = growing || !turns || weight_ > least_weight || change < 0.5 * least_change_;
  idle_ = headway ? 0 : idle_ + 1;
  if (headway) least_change_ = change;
}

}  // namespace tabmelt
