#include "viz/time_panel.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "viz/annotations.h"

namespace tabmelt {

namespace {

constexpr int time_intervals = 6;

std::string tick_words(double value, double step) {
  return short_number(std::abs(value) < 1e-9 * step ? 0 : value);
}

struct Limits {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
  void include(double value) {
    if (std::isfinite(value)) {
      low = std::min(low, value);
      high = std::max(high, value);
    }
  }
};

// Curve k of a stack lies on the sum of those before it.
std::vector<std::vector<double>> summed(const std::vector<Curve>& curves) {
  std::vector<std::vector<double>> sums;
  for (const Curve& curve : curves) {
    sums.push_back(curve.values);
    if (sums.size() > 1) {
      for (std::size_t n = 0; n < curve.values.size(); ++n) {
        sums.back()[n] += sums[sums.size() - 2][n];
      }
    }
  }
  return sums;
}

RoundAxis value_axis(const Panel& panel, const std::vector<std::vector<double>>& lines,
                     const TimeAxis& axis, double height) {
  Limits limits;
  for (const auto& line : lines) {
    for (std::size_t n = 0; n < line.size(); ++n) {
      if (axis.share(panel.time[n]) > -0.01 && axis.share(panel.time[n]) < 1.01) {
        limits.include(line[n]);
      }
    }
  }
  for (const LimitLine& limit : panel.limits) {
    limits.include(limit.value);
  }
  if (panel.from_zero || limits.low > limits.high) {
    limits.include(0);
  }
  if (limits.high - limits.low < 1e-12) {
    limits.high = limits.low + 1;
  }
  const int most = std::max(2, static_cast<int>(height / 38));
  return round_axis(limits.low, limits.high, most);
}

// Pieces of a curve between gaps.
std::vector<Polyline> pieces(const std::vector<Point>& points) {
  std::vector<Polyline> lines(1);
  for (const Point& p : points) {
    if (std::isfinite(p.x) && std::isfinite(p.y)) {
      lines.back().push_back(p);
    } else if (!lines.back().empty()) {
      lines.emplace_back();
    }
  }
  return lines;
}

}  // namespace

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

TimeAxis::TimeAxis(double first, double last, bool logarithmic)
    : first_(first), last_(last), logarithmic_(logarithmic), unit_(last < 2 ? 1e-3 : 1) {}

TimeAxis TimeAxis::over_run(const std::vector<double>& time, double pulse_end) {
  const double last = time.empty() ? 1 : time.back();
  if (pulse_end > 0 && last > 8 * pulse_end) {
    return {0.02 * pulse_end, last, true};
  }
  return {0, last > 0 ? last : 1, false};
}

double TimeAxis::share(double time) const {
  if (!logarithmic_) {
    return (time - first_) / (last_ - first_);
  }
  return time > 0 ? std::log(time / first_) / std::log(last_ / first_) : -1;
}

std::vector<TimeAxis::Tick> TimeAxis::ticks() const {
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
        ticks.push_back({at, k == 1 ? short_number(decade) : std::string()});
      }
    }
  }
  return ticks;
}

std::string TimeAxis::title() const {
  return std::string("time [") + (unit_ < 1 ? "ms" : "s") + "]" +
         (logarithmic_ ? ", logarithmic" : "");
}

void draw_panel(Page& page, const Panel& panel, const TimeAxis& axis, const Box& box,
                bool with_time_labels) {
  std::vector<std::vector<double>> lines;
  if (panel.stacked) {
    lines = summed(panel.curves);
  } else {
    for (const Curve& curve : panel.curves) {
      lines.push_back(curve.values);
    }
  }
  const RoundAxis values = value_axis(panel, lines, axis, box.height);
  const auto height = [&](double value) {
    return box.y + box.height * (value - values.low) / (values.high - values.low);
  };
  const TextStyle tick_style{.size = 14, .colour = palette::quiet_ink};
  page.rectangle(box, palette::plot);
  page.text({box.x, box.top() + 15}, panel.title, {.size = 16, .bold = true});
  for (double value = values.low; value < values.high + 0.5 * values.step; value += values.step) {
    const double y = height(value);
    page.line({{box.x, y}, {box.right(), y}}, {.colour = palette::rule, .width = 1});
    page.text({box.x - 8, y}, tick_words(value, values.step),
              {.size = 14, .colour = palette::quiet_ink, .align = Align::right});
  }
  for (const TimeAxis::Tick& tick : axis.ticks()) {
    const double x = box.x + box.width * tick.share;
    if (!tick.words.empty()) {
      page.line({{x, box.y}, {x, box.top()}}, {.colour = palette::rule, .width = 1});
    }
    if (with_time_labels) {
      page.line({{x, box.y}, {x, box.y - (tick.words.empty() ? 3.0 : 6.0)}},
                {.colour = palette::quiet_ink, .width = 1});
      page.text(
          {x, box.y - 9}, tick.words,
          {.size = 14, .colour = palette::quiet_ink, .align = Align::centre, .level = Level::top});
    }
  }
  if (with_time_labels) {
    page.text(
        {box.centre().x, box.y - 28}, axis.title(),
        {.size = 14, .colour = palette::quiet_ink, .align = Align::centre, .level = Level::top});
  }

  struct Label {
    std::string words;
    Colour colour;
  };
  std::vector<Label> labels;
  std::vector<double> wanted;
  for (const LimitLine& limit : panel.limits) {
    const double y = height(limit.value);
    page.line({{box.x, y}, {box.right(), y}},
              {.colour = limit.colour, .width = 1.8, .dash = 7, .gap = 5});
    labels.push_back({limit.name, limit.colour});
    wanted.push_back(y);
  }
  for (std::size_t c = 0; c < panel.curves.size(); ++c) {
    const Curve& curve = panel.curves[c];
    std::vector<Point> points;
    double last_height = height(0);
    for (std::size_t n = 0; n < lines[c].size(); ++n) {
      const double share = axis.share(panel.time[n]);
      points.push_back({box.x + box.width * std::clamp(share, -0.01, 1.01), height(lines[c][n])});
      if (std::isfinite(lines[c][n]) && share <= 1.0 + 1e-9) {
        last_height = points.back().y;
      }
    }
    if (panel.stacked) {
      std::vector<Point> floor = points;
      for (std::size_t n = 0; n < points.size(); ++n) {
        floor[n].x = points[n].x = std::clamp(points[n].x, box.x, box.right());
        floor[n].y = height(c > 0 ? lines[c - 1][n] : 0);
      }
      page.area(floor, points, paler(curve.style.colour, 0.35));
      last_height = points.empty() ? last_height : 0.5 * (points.back().y + floor.back().y);
    }
    for (const Polyline& piece : pieces(points)) {
      page.line(piece, curve.style, {box.x, box.y - 2, box.width, box.height + 4});
    }
    labels.push_back({curve.name, curve.style.colour});
    wanted.push_back(std::clamp(last_height, box.y, box.top()));
  }
  page.frame(box, {.colour = palette::quiet_ink, .width = 1});
  const std::vector<double> placed = spread(wanted, 19, box.y + 4, box.top() - 4);
  for (std::size_t n = 0; n < labels.size(); ++n) {
    page.line({{box.right() + 2, wanted[n]}, {box.right() + 14, placed[n]}},
              {.colour = labels[n].colour, .width = 1.2});
    page.text({box.right() + 18, placed[n]}, labels[n].words,
              {.size = 15, .colour = labels[n].colour});
  }
}

}  // namespace tabmelt
