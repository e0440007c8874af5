#include "solver/coupling/pulse_step.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/coupling/rounds.h"

namespace tabmelt {
namespace {

// How far the mean of its ends may be from the mean square of a current that rises or falls nearly
// straight, and how much of the mean it then may change.
constexpr double straight = 0.1, steepest = 1.5;

// Change of a current's square over the step, over its mean; 0 if it does not go straight.
double tilt_of(double first, double last, double mean_square) {
  if (!(mean_square > 0)) return 0;
  const double from = first * first / mean_square, to = last * last / mean_square;
  if (std::abs(0.5 * (from + to) - 1) > straight) return 0;
  return std::clamp(to - from, -steepest, steepest);
}

}  // namespace

PulseStep::PulseStep(const Problem& problem, const WeldModel& model, const circuit::Loop& loop)
    : problem_(&problem),
      loop_(&loop),
      touch_down_(problem),
      alike_(touch_down_.tips() == 1 ? problem.arrangement.spots : 1) {
  spots_.reserve(touch_down_.tips());
  for (std::size_t n = 0; n < touch_down_.tips(); ++n) spots_.emplace_back(problem, model);
}

WeldState PulseStep::initial_state() {
  WeldState s;
  s.loop = loop_->initial_state();
  for (std::size_t n = 0; n < spots_.size(); ++n) {
    s.spots.push_back(spots_[n].initial_state());
    // A tip that landed earlier may have struck harder than it presses now.
    const double firmest = touch_down_.firmest(n, 0);
    if (firmest > touch_down_.force(n, 0)) spots_[n].press(s.spots.back(), firmest);
  }
  return s;
}

void PulseStep::lift(WeldState& state, std::size_t tip) {
  SpotContacts::part(state.spots[tip].contact);
  state.spots[tip].resistance = 0;
  state.last_step = 0;
}

double PulseStep::load() const {
  if (spots_.size() == 1) return alike_ * spots_[0].resistance();
  double sum = 0;
  for (const Spot& spot : spots_) sum += spot.resistance();
  return sum;
}

bool PulseStep::settle(const WeldState& state, double dt, StepAttempt& a) {
  const double t_middle = state.loop.time + 0.5 * dt;
  bool first = std::any_of(spots_.begin(), spots_.end(),
                           [](const Spot& spot) { return spot.resistance() <= 0; });
  Rounds rounds(problem_->numerics.coupling_tolerance);
  a.settled = false;
  for (int k = 0; k < problem_->numerics.coupling_limit && !a.settled && !rounds.stuck(); ++k) {
    ++a.coupling_iterations;
    double current = 0;
    if (!first)
      current = std::sqrt(loop_->advance(state.loop, dt, load()).energy.square_current / dt);
    double change = 0;
    bool fixed = true, growing = false;
    for (std::size_t n = 0; n < spots_.size(); ++n) {
      Spot& spot = spots_[n];
      if (!spot.round(touch_down_.force(n, t_middle), current, first, rounds.weight()))
        return false;
      change = std::max(change, spot.change());
      fixed = fixed && spot.fixed_contacts();
      growing = growing || spot.growing();
    }
    first = false;
    rounds.add(load(), change, growing);
    a.settled = fixed || rounds.settled();
  }
  return std::all_of(spots_.begin(), spots_.end(),
                     [](Spot& spot) { return spot.conclude_rounds(); });
}

void PulseStep::attempt(const WeldState& state, double dt, StepAttempt& a) {
  WeldState fields = std::move(a.state);
  a = StepAttempt{};
  a.dt = dt;
  a.first = state.last_step <= 0;
  a.state = std::move(fields);
  a.state.loop = state.loop;
  a.state.spots.resize(spots_.size());
  a.spots.resize(spots_.size());
  for (std::size_t n = 0; n < spots_.size(); ++n) {
    a.state.spots[n].contact = state.spots[n].contact;
    a.state.spots[n].resistance = state.spots[n].resistance;
    spots_[n].begin(state.spots[n], dt);
  }

  const bool flows = state.loop.closed;
  double square_current = 0, tilt = 0;
  circuit::StepOutcome circuit_step;
  if (flows) {
    if (!settle(state, dt, a)) return;
    circuit_step = loop_->advance(state.loop, dt, load());
    square_current = circuit_step.energy.square_current / dt;
    tilt = tilt_of(state.loop.current, circuit_step.state.current, square_current);
  } else {
    circuit_step = loop_->advance(state.loop, dt, 1e-3);
    const double t_middle = state.loop.time + 0.5 * dt;
    for (std::size_t n = 0; n < spots_.size(); ++n)
      spots_[n].rest(touch_down_.touching(n, t_middle), touch_down_.force(n, t_middle));
  }
  a.state.loop = circuit_step.state;
  a.energy = circuit_step.energy;
  a.extremes = circuit_step.extremes;
  a.ended = circuit_step.ended;

  bool solved = true;
  for (std::size_t n = 0; n < spots_.size() && solved; ++n) {
    SpotStep& step = a.spots[n];
    solved = spots_[n].finish(state.spots[n], dt, state.last_step, flows, square_current, tilt,
                              a.state.spots[n], step);
    if (flows)
      step.energy = spots_.size() == 1
                        ? circuit_step.energy.in_load_resistance / alike_
                        : spots_[n].resistance() * circuit_step.energy.square_current;
    a.error = std::max(a.error, step.error);
    a.resistance_change = std::max(a.resistance_change, step.resistance_change);
    a.linear_iterations += step.linear_iterations;
    a.newton_iterations += step.newton_iterations;
  }
  a.state.last_step = dt;
  a.solved = solved;
}

}  // namespace tabmelt
