// The axes of diagrams: round numbers, and those that have room.
#include <algorithm>
#include <cmath>

#include "viz/drawing/diagram.h"
#include "viz/drawing/words.h"

namespace tabmelt::drawing {

namespace {

constexpr int time_intervals = 6;

}  // namespace

std::string tick_words(double value, double step) {
  return short_number(std::abs(value) < 1e-9 * step ? 0 : value);
}

RoundAxis round_axis(double low, double high, int most) {
  const double span = high - low;
  const double power = std::pow(10.0, std::floor(std::log10(span / most)));
  RoundAxis axis;
  for (const double factor : {1.0, 2.0, 5.0, 10.0, 20.0}) {
    axis.step = factor * power;
    axis.low = axis.step * std::floor(low / axis.step + 1e-6);
    axis.high = axis.step * std::ceil(high / axis.step - 1e-6);
    if (std::lround((axis.high - axis.low) / axis.step) <= most) {
      break;
    }
  }
  return axis;
}

Abscissa::Abscissa(double first, double last, bool logarithmic)
    : first_(first), last_(last), logarithmic_(logarithmic), unit_(last < 2 ? 1e-3 : 1) {
  title_ = std::string("time [") + (unit_ < 1 ? "ms" : "s") + "]";
  if (logarithmic_) {
    title_ += ", logarithmic";
  }
}

Abscissa Abscissa::over_run(const std::vector<double>& time, double pulse, double onset) {
  const double last = time.empty() ? 1 : time.back();
  if (pulse > 0 && last > 8 * pulse) {
    // Four decades at most before the end of the pulse: earlier, nothing can be seen.
    return {std::clamp(onset, 1e-4 * pulse, 0.02 * pulse), last, true};
  }
  return {0, last > 0 ? last : 1, false};
}

Abscissa Abscissa::along(double length) {
  Abscissa axis(0, length, false);
  axis.unit_ = 1;
  axis.title_ = "along the line [mm]";
  return axis;
}

double Abscissa::share(double value) const {
  if (!logarithmic_) {
    return (value - first_) / (last_ - first_);
  }
  return value > 0 ? std::log(value / first_) / std::log(last_ / first_) : -1;
}

double Abscissa::at(double share) const {
  return logarithmic_ ? first_ * std::pow(last_ / first_, share) : std::lerp(first_, last_, share);
}

std::vector<Abscissa::Tick> Abscissa::ticks() const {
  std::vector<Tick> ticks;
  if (!logarithmic_) {
    const RoundAxis axis = round_axis(first_ / unit_, last_ / unit_, time_intervals);
    for (double t = axis.low; t <= last_ / unit_ * (1 + 1e-9); t += axis.step) {
      ticks.push_back({share(t * unit_), tick_words(t, axis.step)});
    }
    return ticks;
  }
  for (double decade = std::pow(10.0, std::floor(std::log10(first_ / unit_)));
       decade < last_ / unit_; decade *= 10) {
    for (int k = 1; k < 10; ++k) {
      const double at = share(k * decade * unit_);
      if (at > -1e-9 && at < 1 + 1e-9) {
        const bool named = k == 1 || k == 2 || k == 5;
        ticks.push_back({at, named ? short_number(k * decade) : std::string(), k > 1});
      }
    }
  }
  return ticks;
}

std::vector<Abscissa::Tick> with_room(std::vector<Abscissa::Tick> ticks, double width) {
  constexpr double apart = 9;
  std::vector<std::pair<double, double>> taken;
  for (const bool minor : {false, true}) {
    for (Abscissa::Tick& tick : ticks) {
      if (tick.minor != minor || tick.words.empty()) {
        continue;
      }
      const double half = 0.5 * (Page::text_width(tick.words, below_axis) + apart);
      const double low = tick.share * width - half, high = tick.share * width + half;
      const bool clash = std::any_of(taken.begin(), taken.end(), [&](const auto& other) {
        return low < other.second && high > other.first;
      });
      if (clash) {
        tick.words.clear();
      } else {
        taken.emplace_back(low, high);
      }
    }
  }
  return ticks;
}

}  // namespace tabmelt::drawing
