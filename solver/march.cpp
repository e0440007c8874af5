#include "solver/march.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tabmelt {
namespace {

// A step on which the load resistance moves more than the first is taken again, shorter; one that
// moves more than the second is not followed by a longer one. [1]
constexpr double largest_resistance_change = 0.25;
constexpr double lively_resistance_change = 0.1;
// Where tips land under voltage, of the tolerance of a step: what sparks throw off converges only
// in first order, and the error control hardly sees it. [1]
constexpr double landing_share = 0.5;
constexpr int most_steps = 200000;
// The distance of frames after the pulse, over the time since then. [1]
constexpr double frame_growth = 0.12;
// A pulse without an end is over when the current has fallen to this share of its peak. [1]
constexpr double dead_current = 1e-3;
// The end of the current is met within this share of a step; more of it is asked for than the last
// attempt had, lest the end fall just beyond. [1]
constexpr double end_slack = 1e-3;
// Length of a pulse that nothing ends, for the distance of frames. [s]
constexpr double usual_pulse = 5e-3;

std::vector<double> merged(std::vector<double> times, const std::vector<double>& more) {
  times.insert(times.end(), more.begin(), more.end());
  std::sort(times.begin(), times.end());
  return times;
}

}  // namespace

FrameClock::FrameClock(double pulse, int frames)
    : pulse_(pulse), spacing_(pulse / std::max(frames, 1)) {}

bool FrameClock::due(double time) {
  if (time < next_) return false;
  next_ = time + std::max(spacing_, frame_growth * (time - pulse_));
  return true;
}

March::March(const Problem& problem, WeldModel model, Observer* observer)
    : problem_(&problem),
      model_(std::move(model)),
      loop_(problem.circuit),
      pulse_(problem, model_, loop_),
      recorder_(problem, model_, loop_, pulse_, observer),
      control_{(problem.pressing.closing == Closing::unswitched ? landing_share : 1) *
                   problem.numerics.step_tolerance,
               0.1 * problem.numerics.first_step, problem.numerics.longest_step},
      landings_(pulse_.touch_down().event_times()),
      events_(merged(loop_.event_times(), landings_)),
      end_time_(problem.numerics.end_time.value_or(problem.numerics.longest_run)),
      pulse_end_(loop_.end_of_pulse()),
      pulse_length_(pulse_length()),
      frames_(pulse_length_, problem.numerics.frames),
      state_(pulse_.initial_state()),
      dt_(problem.numerics.first_step) {
  for (std::size_t n = 0; n < pulse_.touch_down().tips(); ++n)
    touching_.push_back(pulse_.touch_down().touching(n, 0));
}

double March::round_off() const {
  return 1e-9 * std::max(state_.loop.time, problem_->numerics.first_step);
}

double March::pulse_length() const {
  double length = std::min(pulse_end_, end_time_);
  if (!std::isfinite(pulse_end_) && !problem_->numerics.end_time) length = usual_pulse;
  if (!landings_.empty()) length = std::max(length, std::min(landings_.back(), end_time_));
  return length;
}

void March::end(Ending ending, std::string reason) {
  over_ = true;
  ending_ = ending;
  reason_ = std::move(reason);
}

bool March::at_the_end() {
  if (state_.loop.time < end_time_ - round_off()) return false;
  end(Ending::finished,
      problem_->numerics.end_time ? "end time reached" : "longest run time reached");
  return true;
}

void March::start_afresh() {
  state_.last_step = 0;
  dt_ = problem_->numerics.first_step;
}

void March::switch_loop(bool conducts, bool switch_conducts) {
  if (conducts) {
    state_.loop = loop_.close_switch(state_.loop);
    return;
  }
  double dumped = 0;
  state_.loop = loop_.open_switch(state_.loop, dumped);
  if (switch_conducts)
    recorder_.tip_lifted(dumped);
  else
    recorder_.switch_opened(dumped);
}

void March::pass_event(double moment) {
  const TouchDown& touch_down = pulse_.touch_down();
  const bool switch_conducts = loop_.conducts_at(state_.loop.time);
  const bool conducts = switch_conducts && touch_down.all_touch(moment);
  if (conducts != state_.loop.closed) {
    switch_loop(conducts, switch_conducts);
    start_afresh();
  }
  for (std::size_t n = 0; n < touching_.size(); ++n) {
    if (touching_[n] == touch_down.touching(n, moment)) continue;
    touching_[n] = !touching_[n];
    if (!touching_[n]) PulseStep::lift(state_, n);
    start_afresh();
  }
}

void March::pass_events() {
  const double now = state_.loop.time;
  // A landing a little ahead by round-off has happened.
  for (; next_event_ < events_.size() && events_[next_event_] <= now + round_off(); ++next_event_)
    pass_event(std::max(now, events_[next_event_]));
}

double March::next_step() const {
  const double now = state_.loop.time;
  double limit = end_time_;
  if (next_event_ < events_.size()) limit = std::min(limit, events_[next_event_]);
  const double step = std::min(dt_, pulse_.touch_down().longest_step(now));
  // No sliver before an event: the last two steps share what is left.
  if (now + step >= limit - round_off()) return limit - now;
  if (now + 2 * step > limit) return 0.5 * (limit - now);
  return step;
}

bool March::overruns(double step) const {
  return attempt_.solved && attempt_.ended && step > 4 * control_.shortest &&
         *attempt_.ended < (1 - end_slack) * step;
}

bool March::stands(double step) {
  if (overruns(step)) {
    ++rejected_;
    dt_ = std::max(control_.shortest, (1 + 0.5 * end_slack) * *attempt_.ended);
    return false;
  }
  const bool lively = attempt_.solved && state_.loop.closed &&
                      attempt_.resistance_change > largest_resistance_change &&
                      step > 4 * control_.shortest;
  // Contacts that do not come to rest may over a shorter step.
  const bool restless = !attempt_.settled && step > 4 * control_.shortest;
  if (attempt_.solved && !lively && !restless && control_.acceptable(attempt_.error, step))
    return true;
  ++rejected_;
  if (!attempt_.solved && step <= control_.shortest)
    end(Ending::failed, "the fields did not converge even at the shortest step");
  else
    shorten(step, lively || restless);
  return false;
}

void March::shorten(double step, bool by_a_lot) {
  const double wanted = attempt_.solved && !by_a_lot
                            ? control_.next(attempt_.error, step, state_.last_step > 0)
                            : 0.4 * step;
  dt_ = std::min(std::max(control_.shortest, wanted), 0.7 * step);
}

void March::choose_growth(double step) {
  // Without history the first-order bound is far too cautious to grow by.
  dt_ = state_.last_step > 0 ? control_.next(attempt_.error, step, true) : 1.5 * step;
  if (state_.loop.closed && attempt_.resistance_change > lively_resistance_change)
    dt_ = std::min(dt_, step);
}

bool March::pulse_is_over(bool current_starts) {
  strongest_ = std::max(strongest_, std::abs(state_.loop.current));
  if (state_.loop.time >= pulse_end_ - round_off()) return true;
  return state_.loop.closed && !std::isfinite(pulse_end_) && !current_starts &&
         std::abs(state_.loop.current) < dead_current * strongest_;
}

void March::take() {
  choose_growth(attempt_.dt);
  const double time = attempt_.state.loop.time;
  // A current that a landing has just started again has not died away.
  const bool current_starts =
      !landings_.empty() && (time < landings_.back() ||
                             std::abs(attempt_.state.loop.current) > std::abs(state_.loop.current));
  const double progress =
      problem_->numerics.end_time ? time / end_time_ : std::min(1.0, time / (4 * pulse_length_));
  const bool goes_on = recorder_.accept(attempt_, progress);
  std::swap(state_, attempt_.state);
  if (attempt_.ended) start_afresh();
  if (!goes_on) return end(Ending::stopped_by_observer, "stopped from outside");
  if (!recorder_.beyond_the_model().empty())
    return end(Ending::failed, "the model does not hold here: " + recorder_.beyond_the_model());
  const bool peaked = recorder_.just_peaked();
  if (frames_.due(time) || peaked) recorder_.frame(state_, state_.loop.closed);

  const bool pulse_over = pulse_is_over(current_starts);
  if (pulse_over && !problem_->numerics.end_time && recorder_.inside_past_its_peak())
    return end(Ending::finished, "the inside has passed its peak");
  if (++steps_ >= most_steps) end(Ending::failed, "too many steps");
}

Result March::run() {
  recorder_.begin(state_);
  frames_.due(0);
  while (!over_ && !at_the_end()) {
    pass_events();
    const double step = next_step();
    pulse_.attempt(state_, step, attempt_);
    if (stands(step)) take();
  }
  recorder_.frame(state_, state_.loop.closed);
  return recorder_.finish(state_, ending_, reason_, rejected_);
}

}  // namespace tabmelt
