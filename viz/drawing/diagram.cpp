#include "viz/drawing/diagram.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "viz/drawing/words.h"

namespace tabmelt::drawing {

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

// A limit this many times higher than every curve would leave them flat on the floor.
constexpr double far_above = 2.5;

// Values to heights on the page.
struct ValueAxis {
  RoundAxis round;  // of the values, or of their decimal logarithms
  bool decades = false;
  Box box;

  double place(double value) const { return decades ? std::log10(value) : value; }
  double height(double value) const {
    return box.y + box.height * (place(value) - round.low) / (round.high - round.low);
  }
};

Limits shown_limits(const Panel& panel, const std::vector<std::vector<double>>& lines,
                    const Abscissa& axis) {
  Limits limits;
  for (const auto& line : lines) {
    for (std::size_t n = 0; n < line.size(); ++n) {
      const double share = axis.share(panel.abscissa[n]);
      if (share > -0.01 && share < 1.01 && (!panel.decades || line[n] > 0)) {
        limits.include(line[n]);
      }
    }
  }
  return limits;
}

ValueAxis value_axis(const Panel& panel, const std::vector<std::vector<double>>& lines,
                     const Abscissa& axis, const Box& box) {
  Limits limits = shown_limits(panel, lines, axis);
  if (panel.decades && limits.low < limits.high) {
    return {
        {std::floor(std::log10(limits.low) + 0.05), std::ceil(std::log10(limits.high) - 0.05), 1},
        true,
        box};
  }
  const double highest = limits.high;
  for (const LimitLine& limit : panel.limits) {
    if (limit.value <= far_above * highest) {
      limits.include(limit.value);
    }
  }
  if (panel.reach) {
    limits.include(*panel.reach);
  }
  if (panel.from_zero || limits.low > limits.high) {
    limits.include(0);
  }
  // A trace below zero too small to see does not earn an interval of its own.
  constexpr double unseen = 0.03;
  if (limits.low < 0 && -limits.low < unseen * limits.high) {
    limits.low = 0;
  }
  if (limits.high - limits.low < 1e-12) {
    limits.high = limits.low + 1;
  }
  const int most = std::max(2, static_cast<int>(box.height / 38));
  return {round_axis(limits.low, limits.high, most), false, box};
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

Abscissa::Abscissa(double first, double last, bool logarithmic)
    : first_(first), last_(last), logarithmic_(logarithmic), unit_(last < 2 ? 1e-3 : 1) {
  title_ = std::string("time [") + (unit_ < 1 ? "ms" : "s") + "]";
  if (logarithmic_) {
    title_ += ", logarithmic";
  }
}

Abscissa Abscissa::over_run(const std::vector<double>& time, double pulse) {
  const double last = time.empty() ? 1 : time.back();
  if (pulse > 0 && last > 8 * pulse) {
    return {0.02 * pulse, last, true};
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

namespace {

constexpr TextStyle left_of_axis{.size = 14, .colour = palette::quiet_ink, .align = Align::right};
constexpr TextStyle below_axis{
    .size = 14, .colour = palette::quiet_ink, .align = Align::centre, .level = Level::top};
constexpr LineStyle grid_line{.colour = palette::rule, .width = 1};

}  // namespace

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

namespace {

void draw_grid(Page& page, const ValueAxis& values, const Abscissa& axis, const Box& box,
               bool with_abscissa) {
  page.rectangle(box, palette::plot);
  const RoundAxis& round = values.round;
  const auto steps = std::lround((round.high - round.low) / round.step);
  for (long k = 0; k <= steps; ++k) {
    const double y = box.y + box.height * static_cast<double>(k) / static_cast<double>(steps);
    const double value = round.low + round.step * static_cast<double>(k);
    page.line({{box.x, y}, {box.right(), y}}, grid_line);
    page.text({box.x - 8, y},
              values.decades ? short_number(std::pow(10, value)) : tick_words(value, round.step),
              left_of_axis);
  }
  for (const Abscissa::Tick& tick : with_room(axis.ticks(), box.width)) {
    const double x = box.x + box.width * tick.share;
    if (!tick.words.empty()) {
      page.line({{x, box.y}, {x, box.top()}}, grid_line);
    }
    if (with_abscissa) {
      page.line({{x, box.y}, {x, box.y - (tick.words.empty() ? 3.0 : 6.0)}},
                {.colour = palette::quiet_ink, .width = 1});
      page.text({x, box.y - 9}, tick.words, below_axis);
    }
  }
  if (with_abscissa) {
    page.text({box.centre().x, box.y - 28}, axis.title(), below_axis);
  }
}

// "joint, max 1784"
std::string name_of(const Curve& curve, bool with_peak) {
  Limits limits;
  for (const double value : curve.values) {
    limits.include(value);
  }
  return with_peak && limits.high > 0 ? curve.name + ", max " + short_number(limits.high)
                                      : curve.name;
}

struct SideLabel {
  std::string words;
  Colour colour;
  double wanted = 0;  // height on the page
};

void draw_side_labels(Page& page, const std::vector<SideLabel>& labels, const Box& box,
                      double room) {
  std::vector<double> wanted;
  for (const SideLabel& label : labels) {
    wanted.push_back(std::clamp(label.wanted, box.y, box.top()));
  }
  const std::vector<double> placed = spread(wanted, 19, box.y + 4, box.top() - 4);
  for (std::size_t n = 0; n < labels.size(); ++n) {
    page.line({{box.right() + 2, wanted[n]}, {box.right() + 14, placed[n]}},
              {.colour = labels[n].colour, .width = 1.2});
    page.text({box.right() + 18, placed[n]}, labels[n].words,
              {.size = 15, .colour = deeper(labels[n].colour, 0.2), .room = room - 18});
  }
}

}  // namespace

void draw_panel(Page& page, const Panel& panel, const Abscissa& axis, const Box& box,
                bool with_abscissa) {
  std::vector<std::vector<double>> lines;
  if (panel.stacked) {
    lines = summed(panel.curves);
  } else {
    for (const Curve& curve : panel.curves) {
      lines.push_back(curve.values);
    }
  }
  const ValueAxis values = value_axis(panel, lines, axis, box);
  const auto height = [&](double value) {
    return values.decades && !(value > 0) ? std::nan("") : values.height(value);
  };
  draw_grid(page, values, axis, box, with_abscissa);
  page.text({box.x, box.top() + 15}, panel.title, {.size = 16, .bold = true});

  std::vector<SideLabel> labels;
  std::vector<LimitLine> limits = panel.limits;
  std::stable_sort(limits.begin(), limits.end(),
                   [](const LimitLine& a, const LimitLine& b) { return a.value < b.value; });
  for (const LimitLine& limit : limits) {
    const double y = values.height(limit.value);
    if (y > box.top() + 1) {
      labels.push_back({limit.name + " (above)", limit.colour, box.top()});
      continue;
    }
    page.line({{box.x, y}, {box.right(), y}},
              {.colour = limit.colour, .width = 1.8, .dash = 7, .gap = 5});
    labels.push_back({limit.name, limit.colour, y});
  }
  for (std::size_t c = 0; c < panel.curves.size(); ++c) {
    const Curve& curve = panel.curves[c];
    Polyline points, floor;
    double last = box.y;
    for (std::size_t n = 0; n < lines[c].size(); ++n) {
      const double share = axis.share(panel.abscissa[n]);
      const double x = box.x + box.width * std::clamp(share, 0.0, 1.0);
      if (share < 0 && n + 1 < lines[c].size() && axis.share(panel.abscissa[n + 1]) <= 0) {
        continue;  // nothing of this step shows
      }
      points.push_back({x, height(lines[c][n])});
      floor.push_back({x, panel.stacked && c > 0 ? height(lines[c - 1][n]) : box.y});
      if (std::isfinite(points.back().y) && share <= 1) {
        last = panel.stacked ? 0.5 * (points.back().y + floor.back().y) : points.back().y;
      }
      if (share > 1) {
        break;
      }
    }
    if (panel.stacked) {
      page.area(floor, points, paler(curve.style.colour, 0.35));
    }
    for (const Polyline& piece : pieces(points)) {
      page.line(piece, curve.style, Box{box.x, box.y - 2, box.width, box.height + 4});
    }
    if (panel.curves.size() + panel.limits.size() > 1 && panel.note.empty()) {
      labels.push_back({name_of(curve, panel.with_peaks), curve.style.colour, last});
    }
  }
  page.text(box.centre(), panel.note,
            {.size = 16, .colour = palette::quiet_ink, .align = Align::centre});
  page.frame(box, {.colour = palette::quiet_ink, .width = 1});
  draw_side_labels(page, labels, box, panel.label_room);
}

}  // namespace tabmelt::drawing
