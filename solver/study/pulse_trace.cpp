#include "solver/study/pulse_trace.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace tabmelt {
namespace {

using circuit::LoopState;
using inference::Channel;
using inference::Interval;
using inference::Sample;

// Transistors without a figure of their own fall within this, wherever the inductance sends its
// energy [s].
constexpr double usual_fall = 1e-4;

}  // namespace

std::vector<double> LoadHistory::flat() const {
  std::vector<double> list;
  for (std::size_t n = 0; n < end.size(); ++n) {
    list.push_back(end[n]);
    list.push_back(resistance[n]);
  }
  return list;
}

LoadHistory LoadHistory::of_flat(const std::vector<double>& list) {
  if (list.size() % 2 != 0) throw std::invalid_argument("LoadHistory: a step lacks its resistance");
  LoadHistory load;
  for (std::size_t n = 0; n + 1 < list.size(); n += 2) {
    load.end.push_back(list[n]);
    load.resistance.push_back(list[n + 1]);
  }
  return load;
}

LoadHistory load_history(const Result& result) {
  LoadHistory load;
  for (const StepRecord& step : result.history) {
    load.end.push_back(step.time);
    load.resistance.push_back(step.load_resistance > 0 ? step.load_resistance : -1);
  }
  return load;
}

LoadHistory bridged(const circuit::Circuit& circuit, double resistance, double end) {
  const circuit::Loop loop(circuit);
  std::vector<double> times = loop.event_times();
  times.push_back(end);
  LoadHistory load;
  for (std::size_t n = 1; n < times.size() && times[n - 1] < end; ++n) {
    load.end.push_back(std::min(times[n], end));
    load.resistance.push_back(loop.conducts_at(times[n - 1]) ? resistance : -1);
  }
  return load;
}

PulseTrace::PulseTrace(const circuit::Circuit& circuit, LoadHistory load)
    : loop_(circuit), load_(std::move(load)), end_(loop_.initial_state()) {
  for (std::size_t n = 0; n < load_.end.size(); ++n) {
    const bool closed = load_.resistance[n] >= 0;
    double dumped = 0;
    if (closed != end_.closed)
      end_ = closed ? loop_.close_switch(end_) : loop_.open_switch(end_, dumped);
    starts_.push_back(end_);
    end_ = loop_.advance(end_, load_.end[n] - end_.time, std::max(load_.resistance[n], 0.0)).state;
  }
  double dumped = 0;
  end_ = loop_.open_switch(end_, dumped);
}

std::size_t PulseTrace::step_at(double time, std::size_t from) const {
  const auto begin =
      load_.end.begin() + static_cast<std::ptrdiff_t>(std::min(from, load_.end.size()));
  return static_cast<std::size_t>(std::upper_bound(begin, load_.end.end(), time) -
                                  load_.end.begin());
}

double PulseTrace::value(Channel channel, const LoopState& state, std::size_t step) const {
  switch (channel) {
    case Channel::current:
      return state.current;
    case Channel::tip_voltage:
      return step < starts_.size() ? std::max(load_.resistance[step], 0.0) * state.current : 0;
    case Channel::source_voltage:
      break;
  }
  return state.source_voltage - loop_.elements().source_resistance * state.current;
}

double PulseTrace::at(Channel channel, double time, std::size_t step) const {
  if (step >= starts_.size()) return value(channel, end_, step);
  const LoopState& start = starts_[step];
  if (time < start.time)  // before the first one
    return value(channel, loop_.initial_state(), starts_.size());
  if (time == start.time) return value(channel, start, step);
  return value(channel,
               loop_.advance(start, time - start.time, std::max(load_.resistance[step], 0.0)).state,
               step);
}

// Simpson's rule between the ends of steps.
double PulseTrace::mean(Channel channel, const Sample& sample, std::size_t& step) const {
  step = step_at(sample.from, step);
  if (sample.to <= sample.from) return at(channel, sample.from, step);
  double area = 0, from = sample.from;
  for (std::size_t n = step; from < sample.to; ++n) {
    double to = n < load_.end.size() ? std::min(load_.end[n], sample.to) : sample.to;
    if (from < 0) to = std::min(to, 0.0);
    const std::size_t here = from < 0 ? 0 : n;
    // Just before the end, where the step is still the one that leads there.
    const double inside = to - 1e-9 * (to - from);
    area += (to - from) / 6 *
            (at(channel, from, here) + 4 * at(channel, 0.5 * (from + to), here) +
             at(channel, inside, here));
    if (from < 0 && to >= 0) n = static_cast<std::size_t>(-1);  // the first step comes next
    from = to;
  }
  return area / (sample.to - sample.from);
}

std::vector<double> PulseTrace::means(Channel channel, const std::vector<Sample>& samples) const {
  std::vector<double> list;
  std::size_t step = 0;
  for (const Sample& sample : samples) list.push_back(mean(channel, sample, step));
  return list;
}

std::vector<Interval> PulseTrace::blind() const {
  std::vector<Interval> list;
  const double fall = std::max(usual_fall, loop_.circuit().power_switch.turn_off_time);
  bool closed = false;
  for (std::size_t n = 0; n < starts_.size(); ++n) {
    if (starts_[n].closed == closed) continue;
    closed = !closed;
    const double time = starts_[n].time;
    if (!closed)
      list.push_back({time, time + fall});
    else if (loop_.elements().inductance == 0)
      list.push_back({time, time});
  }
  // The record may go on longer than the run, which then ended with the switch still closed.
  if (closed) list.push_back({load_.end.back(), 1e300});
  return list;
}

}  // namespace tabmelt
