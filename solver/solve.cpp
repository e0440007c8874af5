#include "solver/solve.h"

#include <algorithm>
#include <cmath>
#include <ctime>
#include <limits>
#include <stdexcept>
#include <utility>

#include "solver/cost.h"
#include "solver/coupling/recorder.h"
#include "solver/coupling/step_control.h"

namespace tabmelt {
namespace {

// A step on which the load resistance moves more than this is taken again, shorter. [1]
constexpr double largest_resistance_change = 0.25;
constexpr int most_steps = 200000;

// Moments of the frames: evenly over the pulse, then at growing distances.
class FrameClock {
 public:
  FrameClock(double pulse, int frames) : pulse_(pulse), spacing_(pulse / std::max(frames, 1)) {}
  bool due(double time) {
    if (time < next_) return false;
    next_ = time + std::max(spacing_, growth_ * (time - pulse_));
    return true;
  }

 private:
  double pulse_, spacing_, next_ = 0;
  static constexpr double growth_ = 0.12;
};

std::vector<double> merged(std::vector<double> times, const std::vector<double>& more) {
  times.insert(times.end(), more.begin(), more.end());
  std::sort(times.begin(), times.end());
  return times;
}

// Of this thread alone: several cases may run side by side.
double cpu_now() {
  std::timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

}  // namespace

Result solve(const Problem& problem, Observer* observer) {
  std::vector<std::string> wrong = complaints(problem);
  if (wrong.empty()) wrong = cost_complaints(problem);
  if (!wrong.empty()) {
    std::string all;
    for (const std::string& w : wrong) all += (all.empty() ? "" : "\n") + w;
    throw std::invalid_argument(all);
  }
  const double started = cpu_now();
  const auto asked_to_stop = [&] { return observer && !observer->prepared(); };
  Result nothing;
  nothing.ending = Ending::stopped_by_observer;
  nothing.ending_reason = "stopped from outside";
  if (asked_to_stop()) return nothing;
  const WeldModel model = build_model(problem);
  if (asked_to_stop()) return nothing;
  const circuit::Loop loop(problem.circuit);
  PulseStep pulse(problem, model, loop);
  if (asked_to_stop()) return nothing;
  Recorder recorder(problem, model, loop, pulse, observer);

  const Numerics& numerics = problem.numerics;
  const StepControl control{numerics.step_tolerance, 0.1 * numerics.first_step,
                            numerics.longest_step};
  const TouchDown& touch_down = pulse.touch_down();
  const std::vector<double> landings = touch_down.event_times();
  const std::vector<double> events = merged(loop.event_times(), landings);
  const double pulse_end = loop.end_of_pulse();
  const double end = numerics.end_time.value_or(numerics.longest_run);

  // Without a switch-off the pulse is over when the current has died away.
  double pulse_length = std::min(pulse_end, end);
  if (!std::isfinite(pulse_end) && !numerics.end_time) pulse_length = 5e-3;
  if (!landings.empty()) pulse_length = std::max(pulse_length, std::min(landings.back(), end));
  FrameClock frames(pulse_length, numerics.frames);

  WeldState state = pulse.initial_state();
  StepAttempt attempt;
  recorder.begin(state);
  frames.due(0);

  Ending ending = Ending::finished;
  std::string reason = "the inside has passed its peak";
  if (numerics.end_time) reason = "end time reached";
  int rejected = 0, steps = 0;
  std::size_t next_event = 0;
  double dt = numerics.first_step;
  double strongest = 0;
  bool pulse_over = false;
  std::vector<bool> touching(touch_down.tips());
  for (std::size_t n = 0; n < touching.size(); ++n) touching[n] = touch_down.touching(n, 0);

  while (true) {
    const double now = state.loop.time;
    const double close = 1e-9 * std::max(now, numerics.first_step);
    if (now >= end - close) {
      if (!numerics.end_time) reason = "longest run time reached";
      break;
    }
    while (next_event < events.size() && events[next_event] <= now + close) {
      // A landing a little ahead by round-off has happened.
      const double moment = std::max(now, events[next_event]);
      ++next_event;
      const bool switch_conducts = loop.conducts_at(now);
      const bool conducts = switch_conducts && touch_down.all_touch(moment);
      if (conducts != state.loop.closed) {
        if (conducts) {
          state.loop = loop.close_switch(state.loop);
        } else {
          double dumped = 0;
          state.loop = loop.open_switch(state.loop, dumped);
          if (switch_conducts)
            recorder.tip_lifted(dumped);
          else
            recorder.switch_opened(dumped);
        }
        state.last_step = 0;
        dt = numerics.first_step;
      }
      for (std::size_t n = 0; n < touching.size(); ++n) {
        if (touching[n] == touch_down.touching(n, moment)) continue;
        touching[n] = !touching[n];
        if (!touching[n]) pulse.lift(state, n);
        state.last_step = 0;
        dt = numerics.first_step;
      }
    }
    double limit = end;
    if (next_event < events.size()) limit = std::min(limit, events[next_event]);
    double step = std::min(dt, touch_down.longest_step(now));
    // No sliver before an event: the last two steps share what is left.
    if (now + step >= limit - close) {
      step = limit - now;
    } else if (now + 2 * step > limit) {
      step = 0.5 * (limit - now);
    }

    pulse.attempt(state, step, attempt);
    const bool lively = attempt.solved && state.loop.closed &&
                        attempt.resistance_change > largest_resistance_change &&
                        step > 4 * control.shortest;
    if (!attempt.solved || lively || !control.acceptable(attempt.error, step)) {
      ++rejected;
      if (!attempt.solved && step <= control.shortest) {
        ending = Ending::failed;
        reason = "the fields did not converge even at the shortest step";
        break;
      }
      dt = attempt.solved && !lively
               ? std::max(control.shortest, control.next(attempt.error, step, state.last_step > 0))
               : std::max(control.shortest, 0.4 * step);
      dt = std::min(dt, 0.7 * step);
      continue;
    }
    // Without history the first-order bound is far too cautious to grow by.
    dt = state.last_step > 0 ? control.next(attempt.error, step, true) : 1.5 * step;
    if (state.loop.closed && attempt.resistance_change > 0.1) dt = std::min(dt, step);

    const double time = attempt.state.loop.time;
    // A current that a landing has just started again has not died away.
    const bool starting =
        !landings.empty() && (time < landings.back() ||
                              std::abs(attempt.state.loop.current) > std::abs(state.loop.current));
    const double progress =
        numerics.end_time ? time / end : std::min(1.0, time / (4 * pulse_length));
    const bool goes_on = recorder.accept(attempt, progress);
    std::swap(state, attempt.state);
    if (!goes_on) {
      ending = Ending::stopped_by_observer;
      reason = "stopped from outside";
      break;
    }
    if (!recorder.beyond_the_model().empty()) {
      ending = Ending::failed;
      reason = "the model does not hold here: " + recorder.beyond_the_model();
      break;
    }
    const bool peaked = recorder.just_peaked();
    if (frames.due(state.loop.time) || peaked) recorder.frame(state, state.loop.closed);

    strongest = std::max(strongest, std::abs(state.loop.current));
    pulse_over = state.loop.time >= pulse_end - close ||
                 (state.loop.closed && !std::isfinite(pulse_end) && !starting &&
                  std::abs(state.loop.current) < 1e-3 * strongest);
    if (pulse_over && !numerics.end_time && recorder.inside_past_its_peak()) break;
    if (++steps >= most_steps) {
      ending = Ending::failed;
      reason = "too many steps";
      break;
    }
  }
  recorder.frame(state, state.loop.closed);
  Result result = recorder.finish(state, ending, reason, rejected);
  result.cpu_seconds = cpu_now() - started;
  return result;
}

}  // namespace tabmelt
