#include "viz/drawing/diagram.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "viz/drawing/words.h"

namespace tabmelt::drawing {

namespace {

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
  std::optional<double> broken_above{};  // spikes beyond it end in a break

  double place(double value) const { return decades ? std::log10(value) : value; }
  double height(double value) const {
    if (decades && !(value > 0)) return std::nan("");
    return box.y + box.height * (place(value) - round.low) / (round.high - round.low);
  }
};

using Lines = std::vector<std::vector<double>>;

bool shows(const Abscissa& axis, double at) {
  const double share = axis.share(at);
  return share > -0.01 && share < 1.01;
}

Limits shown_limits(const Panel& panel, const Lines& lines, const Abscissa& axis) {
  Limits limits;
  for (const auto& line : lines) {
    for (std::size_t n = 0; n < line.size(); ++n) {
      if (shows(axis, panel.abscissa[n]) && (!panel.decades || line[n] > 0)) {
        limits.include(line[n]);
      }
    }
  }
  return limits;
}

// What the curves reach over more than a few page units, if a spike goes far beyond it.
std::optional<double> beside_spikes(const Panel& panel, const Lines& lines, const Abscissa& axis,
                                    const Box& box, double highest) {
  constexpr std::size_t narrow = 3;  // page units
  constexpr double far_beyond = 2.5;
  double level = 0;
  for (const auto& line : lines) {
    // Largest value in each column of the page.
    std::vector<double> columns(static_cast<std::size_t>(box.width) + 1, 0);
    double before = std::nan("");
    std::size_t last = 0;
    for (std::size_t n = 0; n < line.size(); ++n) {
      if (!std::isfinite(line[n]) || !shows(axis, panel.abscissa[n])) continue;
      const double share = std::clamp(axis.share(panel.abscissa[n]), 0.0, 1.0);
      const auto column = static_cast<std::size_t>(share * box.width);
      columns[column] = std::max(columns[column], line[n]);
      // A straight line between two columns is at least as high as its lower end.
      for (std::size_t k = last + 1; std::isfinite(before) && k < column; ++k) {
        columns[k] = std::max(columns[k], std::min(before, line[n]));
      }
      before = line[n];
      last = column;
    }
    std::sort(columns.begin(), columns.end(), std::greater<>());
    level = std::max(level, columns[std::min(narrow, columns.size() - 1)]);
  }
  return level > 0 && highest > far_beyond * level ? std::optional(level) : std::nullopt;
}

ValueAxis value_axis(const Panel& panel, const Lines& lines, const Abscissa& axis, const Box& box) {
  Limits limits = shown_limits(panel, lines, axis);
  if (panel.decades && limits.low < limits.high) {
    return {
        {std::floor(std::log10(limits.low) + 0.05), std::ceil(std::log10(limits.high) - 0.05), 1},
        true,
        box};
  }
  std::optional<double> broken;
  if (!panel.stacked && !panel.decades && limits.low < limits.high) {
    broken = beside_spikes(panel, lines, axis, box, limits.high);
    if (broken) limits.high = *broken;
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
  ValueAxis values{round_axis(limits.low, limits.high, most), false, box, {}};
  if (broken) values.broken_above = values.round.high;
  return values;
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

constexpr LineStyle grid_line{.colour = palette::rule, .width = 1};

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
  if (!values.decades && round.low < 0 && round.high > 0) {
    page.line({{box.x, values.height(0)}, {box.right(), values.height(0)}},
              {.colour = palette::quiet_ink, .width = 1});
  }
}

std::optional<std::size_t> peak_of(const Panel& panel, const std::vector<double>& line,
                                   const Abscissa& axis) {
  std::optional<std::size_t> peak;
  for (std::size_t n = 0; n < line.size(); ++n) {
    const bool counts = std::isfinite(line[n]) && shows(axis, panel.abscissa[n]);
    if (counts && (!peak || line[n] > line[*peak])) peak = n;
  }
  return peak;
}

// "joint, max 1784"
std::string name_of(const Panel& panel, std::size_t curve, const Abscissa& axis) {
  const Curve& named = panel.curves[curve];
  const auto peak = peak_of(panel, named.values, axis);
  return panel.with_peaks && peak && named.values[*peak] > 0
             ? named.name + ", max " + short_number(named.values[*peak])
             : named.name;
}

struct SideLabel {
  std::string words;
  Colour colour;
  double wanted = 0;          // height on the page
  std::optional<Point> from;  // a place on the curve that it belongs to
  bool above = false;         // what it names lies above the plot
};

constexpr double label_pitch = 19;

void draw_side_labels(Page& page, const std::vector<SideLabel>& labels, const Box& box,
                      double room) {
  std::vector<double> wanted;
  for (const SideLabel& label : labels) {
    wanted.push_back(std::clamp(label.wanted, box.y, box.top()));
  }
  const std::vector<double> placed = spread(wanted, label_pitch, box.y + 4, box.top() - 4);
  for (std::size_t n = 0; n < labels.size(); ++n) {
    const SideLabel& label = labels[n];
    if (label.from) {
      page.line({*label.from, {box.right(), wanted[n]}},
                {.colour = label.colour, .width = 1, .dash = 2, .gap = 4});
      page.disc(*label.from, 4.5, palette::white);
      page.disc(*label.from, 3.2, label.colour);
    }
    if (label.above) {
      page.shape({{{box.right() - 12, box.top() - 12},
                   {box.right() - 2, box.top() - 12},
                   {box.right() - 7, box.top() - 2}}},
                 label.colour);
    }
    page.line({{box.right() + 2, wanted[n]}, {box.right() + 14, placed[n]}},
              {.colour = label.colour, .width = 1.2});
    page.text({box.right() + 18, placed[n]}, label.words,
              {.size = 15, .colour = deeper(label.colour, 0.2), .room = room - 18});
  }
}

double least_distance(std::vector<double> heights) {
  std::sort(heights.begin(), heights.end());
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t n = 1; n < heights.size(); ++n) {
    least = std::min(least, heights[n] - heights[n - 1]);
  }
  return least;
}

// One panel in the making.
class Drawing {
 public:
  Drawing(Page& page, const Panel& panel, const Abscissa& axis, const Box& box)
      : page_(page), panel_(panel), axis_(axis), box_(box) {
    if (panel.stacked) {
      lines_ = summed(panel.curves);
    } else {
      for (const Curve& curve : panel.curves) lines_.push_back(curve.values);
    }
    values_ = value_axis(panel, lines_, axis, box);
  }

  void draw(bool with_abscissa) {
    draw_grid(page_, values_, axis_, box_, with_abscissa);
    draw_shaded();
    page_.text({box_.x, box_.top() + 15}, panel_.title, {.size = 16, .bold = true});
    draw_limits();
    for (std::size_t c = 0; c < panel_.curves.size(); ++c) draw_curve(c);
    for (std::size_t c = 0; c < panel_.curves.size(); ++c) draw_break(c);
    page_.text(box_.centre(), panel_.note,
               {.size = 16, .colour = palette::quiet_ink, .align = Align::centre});
    page_.frame(box_, {.colour = palette::quiet_ink, .width = 1});
    if (panel_.curves.size() + panel_.limits.size() > 1 && panel_.note.empty()) add_names();
    draw_side_labels(page_, labels_, box_, panel_.label_room);
  }

 private:
  double x_at(double abscissa) const {
    return box_.x + box_.width * std::clamp(axis_.share(abscissa), 0.0, 1.0);
  }

  void draw_shaded() {
    bool named = panel_.shaded_name.empty();
    const TextStyle words{.size = 13, .colour = palette::quiet_ink};
    for (const Span& span : panel_.shaded) {
      const double left = x_at(span.from), right = x_at(span.to);
      page_.rectangle({left, box_.y, std::max(right - left, 1.0), box_.height},
                      faded(palette::orange, 0.16));
      const double wide = Page::text_width(panel_.shaded_name, words);
      if (!named && right - left > wide + 10) {
        page_.text({left + 5, box_.top() - 10}, panel_.shaded_name, words);
        named = true;
      }
    }
  }

  void draw_limits() {
    std::vector<LimitLine> limits = panel_.limits;
    std::stable_sort(limits.begin(), limits.end(),
                     [](const LimitLine& a, const LimitLine& b) { return a.value < b.value; });
    for (const LimitLine& limit : limits) {
      const double y = values_.height(limit.value);
      if (y > box_.top() + 1) {
        labels_.push_back({limit.name + " (above)", limit.colour, box_.top(), {}, true});
        continue;
      }
      page_.line({{box_.x, y}, {box_.right(), y}},
                 {.colour = limit.colour, .width = 1.8, .dash = 7, .gap = 5});
      labels_.push_back({limit.name, limit.colour, y, {}});
    }
  }

  // What of a curve shows, in page units.
  Polyline points_of(std::size_t c) const {
    Polyline points;
    const std::vector<double>& line = lines_[c];
    for (std::size_t n = 0; n < line.size(); ++n) {
      const double share = axis_.share(panel_.abscissa[n]);
      if (share < 0 && n + 1 < line.size() && axis_.share(panel_.abscissa[n + 1]) <= 0) {
        continue;  // nothing of this step shows
      }
      points.push_back({x_at(panel_.abscissa[n]), values_.height(line[n])});
      if (share > 1) break;
    }
    return points;
  }

  void draw_curve(std::size_t c) {
    const Curve& curve = panel_.curves[c];
    const Polyline points = points_of(c);
    if (panel_.stacked) {
      Polyline floor = c > 0 ? points_of(c - 1) : points;
      if (c == 0) {
        for (Point& p : floor) p.y = box_.y;
      }
      page_.area(floor, points, paler(curve.style.colour, 0.35));
    } else if (!values_.decades && values_.round.low < 0) {
      draw_below_zero(points, curve.style.colour);
    }
    for (const Polyline& piece : pieces(points)) {
      page_.line(piece, curve.style, Box{box_.x, box_.y - 2, box_.width, box_.height + 4});
    }
  }

  void draw_below_zero(const Polyline& points, const Colour& colour) {
    const double zero = values_.height(0);
    for (const Polyline& piece : pieces(points)) {
      Polyline outline = piece;
      if (outline.empty()) continue;
      outline.push_back({outline.back().x, zero});
      outline.push_back({outline.front().x, zero});
      page_.shape({outline}, paler(colour, 0.6),
                  Box{box_.x, box_.y, box_.width, std::max(0.0, zero - box_.y)});
    }
  }

  // A curve that leaves the axis for less than can be seen: two strokes across it and its value.
  void draw_break(std::size_t c) {
    const auto peak = peak_of(panel_, lines_[c], axis_);
    if (!values_.broken_above || !peak || !(lines_[c][*peak] > *values_.broken_above)) return;
    const double x = x_at(panel_.abscissa[*peak]), y = box_.top() - 14;
    const Colour& colour = panel_.curves[c].style.colour;
    for (const double up : {0.0, 5.0}) {
      page_.line({{x - 6, y + up - 3}, {x + 6, y + up + 3}},
                 {.colour = palette::white, .width = 4});
      page_.line({{x - 6, y + up - 3}, {x + 6, y + up + 3}}, {.colour = colour, .width = 1.6});
    }
    const std::string words = "up to " + short_number(lines_[c][*peak]);
    const TextStyle style{.size = 14, .colour = deeper(colour, 0.2), .bold = true};
    const double wide = Page::text_width(words, style);
    const bool right = x + 12 + wide < box_.right() - 4;
    page_.text(
        {right ? x + 12 : x - 12 - wide, box_.top() - 11 - 17 * static_cast<double>(breaks_)},
        words, style);
    ++breaks_;
  }

  // Where each curve's name belongs: beside its end if all ends lie apart, else at its peak if the
  // peaks lie further apart.
  void add_names() {
    std::vector<std::pair<std::size_t, Point>> ends;
    for (std::size_t c = 0; c < panel_.curves.size(); ++c) {
      const Polyline points = points_of(c);
      const auto last = std::find_if(points.rbegin(), points.rend(),
                                     [](const Point& p) { return std::isfinite(p.y); });
      if (last == points.rend()) continue;  // no curve, no name
      double y = last->y;
      if (panel_.stacked) {
        const double floor = c > 0 ? points_of(c - 1).back().y : box_.y;
        y = 0.5 * (y + floor);
      }
      ends.push_back({c, {last->x, y}});
    }
    std::vector<double> at_end, at_peak;
    for (const auto& [c, end] : ends) {
      at_end.push_back(end.y);
      if (const auto peak = peak_of(panel_, lines_[c], axis_)) {
        at_peak.push_back(values_.height(lines_[c][*peak]));
      }
    }
    const double room = least_distance(at_end);
    const bool peaks = !panel_.stacked && (panel_.with_peaks ||
                                           (room < label_pitch && room < least_distance(at_peak)));
    for (const auto& [c, end] : ends) {
      SideLabel label{name_of(panel_, c, axis_), panel_.curves[c].style.colour, end.y, {}};
      const auto peak = peak_of(panel_, lines_[c], axis_);
      if (peaks && peak) {
        label.wanted = std::min(values_.height(lines_[c][*peak]), box_.top());
        label.from = Point{x_at(panel_.abscissa[*peak]), label.wanted};
      }
      labels_.push_back(std::move(label));
    }
  }

  Page& page_;
  const Panel& panel_;
  const Abscissa& axis_;
  Box box_;
  Lines lines_;
  ValueAxis values_;
  std::vector<SideLabel> labels_;
  int breaks_ = 0;
};

}  // namespace

void draw_panel(Page& page, const Panel& panel, const Abscissa& axis, const Box& box,
                bool with_abscissa) {
  Drawing(page, panel, axis, box).draw(with_abscissa);
}

}  // namespace tabmelt::drawing
