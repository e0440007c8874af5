#include "solver/inference/trace_residuals.h"

#include <algorithm>
#include <cmath>

namespace tabmelt::inference {
namespace {

constexpr double slope_step = 0.02;  // of an unknown's scale

using Point = TraceResiduals::Point;
using CurvePtrs = TraceResiduals::CurvePtrs;

// Zero means left out.
double counted(double residual) { return residual == 0 ? 1e-9 : residual; }

Unknown shift_unknown(const Record& record) {
  const Trigger& t = record.channels.front().trigger;
  const double reach = 2 * (t.off - t.on) + 1e-3;
  return {record.name + ": time of the start", t.on, t.on - reach, t.on + reach,
          std::max(t.off - t.on, 1e-9)};
}

Unknown zero_unknown(const RecordedChannel& c) {
  const double reach = std::abs(c.trigger.height);
  return {"zero", c.trigger.base, c.trigger.base - reach, c.trigger.base + reach, reach};
}

// Where the model passes the same share of its own height as the record does at its level.
double first_shift(const Record& record, const Curve& curve) {
  const RecordedChannel& c = record.channels.front();
  const double length = std::max(c.trigger.off - c.trigger.on, 1e-6);
  std::vector<Sample> times;
  for (int n = 0; n <= 4000; ++n) {
    const double t = length * n / 2000.0;
    times.push_back({t, t});
  }
  const std::vector<double> values = curve.means(c.channel, times);
  const double before = curve.means(c.channel, {{-1, -1}}).front();
  double height = 0;
  for (const double v : values) height = std::max(height, std::abs(v - before));
  const double share = std::abs((c.trigger.level - c.trigger.base) / c.trigger.height);
  for (std::size_t n = 0; n < values.size(); ++n)
    if (std::abs(values[n] - before) >= share * height) return c.trigger.on - times[n].from;
  return c.trigger.on;
}

bool is_blind(const RecordedChannel& c, const Sample& s, double shift,
              const std::vector<Interval>& blind) {
  const double slack = 0.5 * c.spacing;
  return std::any_of(blind.begin(), blind.end(), [&](const Interval& b) {
    return s.to - shift + slack > b.from && s.from - shift - slack < b.to;
  });
}

std::vector<double> shown(const RecordedChannel& c, const Curve& curve, double shift) {
  std::vector<Sample> own = c.samples;
  for (Sample& s : own) {
    s.from -= shift;
    s.to -= shift;
  }
  return curve.means(c.channel, own);
}

// Samples that either leaves out say nothing.
Eigen::VectorXd slope(const std::vector<double>& above, const std::vector<double>& below,
                      double distance) {
  Eigen::VectorXd column(above.size());
  for (std::size_t k = 0; k < above.size(); ++k)
    column[k] = above[k] == 0 || below[k] == 0 ? 0 : (above[k] - below[k]) / distance;
  return column;
}

}  // namespace

TraceResiduals::TraceResiduals(const Curves& curves, const std::vector<Unknown>& physical,
                               const std::vector<Record>& records, double scale_error)
    : curves_(curves),
      records_(records),
      unknowns_(physical),
      physical_(physical.size()),
      scale_error_(scale_error) {
  bool has_current = false;
  for (const Record& record : records) {
    Place place{unknowns_.size(), {}};
    unknowns_.push_back(shift_unknown(record));
    for (const RecordedChannel& c : record.channels) {
      const bool fitted = c.trigger.has_base && c.channel != Channel::source_voltage;
      place.zero.push_back(fitted ? unknowns_.size() : 0);
      if (fitted) unknowns_.push_back(zero_unknown(c));
      has_current = has_current || c.channel == Channel::current;
    }
    places_.push_back(std::move(place));
  }
  if (!(scale_error > 0) || !has_current) return;
  scale_ = unknowns_.size();
  unknowns_.push_back({"scale of the current", 0, -0.9, 0.9, scale_error});
}

std::optional<std::size_t> TraceResiduals::scale_place() const {
  return scale_ == 0 ? std::nullopt : std::optional(scale_);
}

void TraceResiduals::place_starts(const CurvePtrs& curves) {
  for (std::size_t n = 0; n < records_.size(); ++n)
    unknowns_[places_[n].shift].start = first_shift(records_[n], *curves[n]);
}

double TraceResiduals::zero_of(std::size_t record, std::size_t channel, const Point& x) const {
  const std::size_t at = places_[record].zero[channel];
  return at == 0 ? 0 : x[at];
}

void TraceResiduals::add(std::size_t n, const Curve& curve, const Point& x,
                         std::vector<double>& residuals) const {
  const double shift = x[places_[n].shift];
  const std::vector<Interval> blind = curve.blind();
  for (std::size_t c = 0; c < records_[n].channels.size(); ++c) {
    const RecordedChannel& channel = records_[n].channels[c];
    const std::vector<double> model = shown(channel, curve, shift);
    const double zero = zero_of(n, c, x);
    const double factor = channel.channel == Channel::current ? 1 + scale_of(x) : 1;
    for (std::size_t k = 0; k < model.size(); ++k) {
      const Sample& s = channel.samples[k];
      const double r = (s.value - zero - factor * model[k]) / s.deviation;
      residuals.push_back(is_blind(channel, s, shift, blind) ? 0 : counted(r));
    }
  }
}

std::optional<std::vector<double>> TraceResiduals::at(const CurvePtrs& curves,
                                                      const Point& x) const {
  std::vector<double> all;
  for (std::size_t n = 0; n < records_.size(); ++n) {
    if (!curves[n]) return std::nullopt;
    add(n, *curves[n], x, all);
  }
  if (scale_ != 0) all.push_back(counted(x[scale_] / scale_error_));
  return all;
}

std::optional<Linearised> TraceResiduals::linearised(const Point& x, bool slopes) const {
  std::vector<Point> points{physical_part(x)};
  std::vector<std::pair<double, double>> ends;
  for (std::size_t i = 0; slopes && i < physical_; ++i) {
    const double step = slope_step * unknowns_[i].scale;
    ends.emplace_back(std::max(x[i] - step, unknowns_[i].low),
                      std::min(x[i] + step, unknowns_[i].high));
    for (const double end : {ends.back().first, ends.back().second}) {
      points.push_back(points.front());
      points.back()[i] = end;
    }
  }
  const auto curves = curves_(points);
  auto here = at(curves.front(), x);
  if (!here) return std::nullopt;
  Linearised answer{std::move(*here), {}};
  if (!slopes) return answer;
  answer.jacobian = Eigen::MatrixXd::Zero(answer.residuals.size(), unknowns_.size());
  for (std::size_t i = 0; i < physical_; ++i) {
    const auto below = at(curves[1 + 2 * i], x), above = at(curves[2 + 2 * i], x);
    // Beside a point that cannot be computed the other side has to do.
    const double low = below ? ends[i].first : x[i], high = above ? ends[i].second : x[i];
    if (high > low)
      answer.jacobian.col(i) =
          slope(above.value_or(answer.residuals), below.value_or(answer.residuals), high - low);
  }
  for (std::size_t n = 0; n < records_.size(); ++n) add_shift_slope(n, curves.front(), x, answer);
  add_linear_slopes(x, answer);
  return answer;
}

void TraceResiduals::add_shift_slope(std::size_t n, const CurvePtrs& curves, const Point& x,
                                     Linearised& answer) const {
  const double step = 0.25 * records_[n].channels.front().spacing;
  Point early = x, late = x;
  early[places_[n].shift] -= step;
  late[places_[n].shift] += step;
  answer.jacobian.col(places_[n].shift) = slope(*at(curves, late), *at(curves, early), 2 * step);
}

// In zeros and scale a residual is linear: (1 + g) m = y - b - sigma r.
void TraceResiduals::add_linear_slopes(const Point& x, Linearised& answer) const {
  std::size_t row = 0;
  for (std::size_t r = 0; r < records_.size(); ++r)
    for (std::size_t c = 0; c < records_[r].channels.size(); ++c)
      for (const Sample& s : records_[r].channels[c].samples) {
        const double residual = answer.residuals[row];
        const std::size_t zero = places_[r].zero[c];
        if (residual != 0 && zero != 0) answer.jacobian(row, zero) = -1 / s.deviation;
        if (residual != 0 && scale_ != 0 && records_[r].channels[c].channel == Channel::current)
          answer.jacobian(row, scale_) =
              (residual - (s.value - zero_of(r, c, x)) / s.deviation) / (1 + x[scale_]);
        ++row;
      }
  if (scale_ != 0) answer.jacobian(row, scale_) = 1 / scale_error_;
}

double TraceResiduals::size_at(std::size_t record, const Curve& curve, const Point& x) const {
  std::vector<double> residuals;
  add(record, curve, x, residuals);
  double sum = 0, count = 0;
  for (const double one : residuals) {
    sum += one * one;
    count += one != 0 ? 1 : 0;
  }
  return sum / std::max(count, 1.0);
}

bool TraceResiduals::moved_shifts(const Point& best) {
  bool moved = false;
  const auto curves = curves_({physical_part(best)}).front();
  for (std::size_t n = 0; n < records_.size(); ++n) {
    if (!curves[n]) return false;
    const double spacing = records_[n].channels.front().spacing;
    const std::size_t place = places_[n].shift;
    double least = 0.98 * size_at(n, *curves[n], best);
    for (int k = -16; k <= 16; ++k) {
      Point x = best;
      x[place] += 0.5 * k * spacing;
      if (const double s = size_at(n, *curves[n], x); s < least) {
        least = s;
        unknowns_[place].start = x[place];
        // Less than a sample's distance the next steps find themselves.
        moved = moved || std::abs(k) > 2;
      }
    }
  }
  return moved;
}

}  // namespace tabmelt::inference
