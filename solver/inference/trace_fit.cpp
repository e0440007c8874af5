#include "solver/inference/trace_fit.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "solver/inference/averaged.h"
#include "solver/sampling/draws.h"

namespace tabmelt::inference {
namespace {

constexpr double slope_step = 0.02;  // of an unknown's scale
constexpr int rounds = 3;            // of fit and search for the shift
constexpr int coarse_iterations = 12;
constexpr int averaging_rounds = 5;
constexpr double averaging_box = 0.02;  // of an unknown's scale
// The noise comes from second differences by their median: of the variance it tells as much as
// this share of independent values would (0.37 of the median, 1/1.94 of overlapping differences).
constexpr double freedom_of_noise = 0.19;

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

using Point = std::vector<double>;
using CurvePtr = std::shared_ptr<const Curve>;

struct Place {  // of one record's own unknowns
  std::size_t shift = 0;
  std::vector<std::size_t> zero;  // of each channel; 0: not fitted
};

class Fitting {
 public:
  Fitting(const Curves& curves, const std::vector<Unknown>& unknowns,
          const std::vector<Record>& records)
      : curves_(curves), records_(records), unknowns_(unknowns), physical_(unknowns.size()) {
    for (const Record& record : records) {
      Place place{unknowns_.size(), {}};
      unknowns_.push_back(shift_unknown(record));
      for (const RecordedChannel& c : record.channels) {
        const bool fitted = c.trigger.has_base && c.channel != Channel::source_voltage;
        place.zero.push_back(fitted ? unknowns_.size() : 0);
        if (fitted) unknowns_.push_back(zero_unknown(c));
      }
      places_.push_back(std::move(place));
    }
  }

  TraceFit answer() {
    TraceFit fit;
    const auto first = curves_({physical_part(starts())}).front();
    if (std::find(first.begin(), first.end(), nullptr) != first.end()) return fit;
    fit.computed = true;
    for (std::size_t n = 0; n < records_.size(); ++n)
      unknowns_[places_[n].shift].start = first_shift(records_[n], *first[n]);
    LeastSquares found;
    const Model model = [this](const Point& x, bool slopes) { return linearised(x, slopes); };
    for (int round = 0; round < rounds; ++round) {
      found = least_squares(model, unknowns_, coarse_iterations);
      fit.iterations += found.iterations;
      for (std::size_t i = 0; i < unknowns_.size(); ++i) unknowns_[i].start = found.best[i];
      if (!moved_shifts(found.best)) break;
    }
    if (!found.residuals.empty()) refine(found);
    describe(found, fit);
    return fit;
  }

 private:
  struct Refined {
    bool settled = false;
    Point best;
    VectorXd residuals;  // of the averaged model at `best`
    MatrixXd jacobian;   // weighted
    VectorXd errors;
    VectorXd jump;  // [1] size of the model's jumps over the noise, of each residual
  };

  // Half-widths in which the model is averaged: wide enough that it jumps within them, whatever the
  // errors are.
  std::vector<double> boxes() const {
    std::vector<double> box;
    for (std::size_t i = 0; i < physical_; ++i) box.push_back(averaging_box * unknowns_[i].scale);
    return box;
  }

  // Residuals at points around x, shifts and zeros held; nothing where the model fails.
  std::optional<Averaged> around(const Point& x, const std::vector<double>& box,
                                 std::uint64_t seed) const {
    std::vector<Point> points;
    std::vector<std::vector<double>> offsets;
    for (const auto& u : study::even_points(points_wanted(physical_), physical_, seed)) {
      Point point = physical_part(x);
      std::vector<double> offset;
      for (std::size_t i = 0; i < physical_; ++i) {
        point[i] = std::clamp(x[i] + (2 * u[i] - 1) * box[i], unknowns_[i].low, unknowns_[i].high);
        offset.push_back((point[i] - x[i]) / box[i]);
      }
      points.push_back(std::move(point));
      offsets.push_back(std::move(offset));
    }
    std::vector<std::vector<double>> all, used;
    const auto curves = curves_(points);
    for (std::size_t j = 0; j < points.size(); ++j)
      if (auto r = residuals(curves[j], x)) {
        all.push_back(std::move(*r));
        used.push_back(offsets[j]);
      }
    if (all.size() <= points.size() / 2) return std::nullopt;
    // Left out by one of them: left out by all.
    for (std::size_t k = 0; k < all.front().size(); ++k)
      if (std::any_of(all.begin(), all.end(), [k](const auto& r) { return r[k] == 0; }))
        for (auto& r : all) r[k] = 0;
    return averaged(used, all);
  }

  // Gauss and Newton's steps on the averaged model.
  void refine(const LeastSquares& found) {
    refined_.best = found.best;
    std::vector<double> errors(unknowns_.size());
    MatrixXd own = found.jacobian;
    for (int round = 0; round < averaging_rounds && !refined_.settled; ++round) {
      const std::vector<double> box = boxes();
      const auto a = around(refined_.best, box, 1 + static_cast<std::uint64_t>(round));
      if (!a) return;
      for (std::size_t i = 0; i < physical_; ++i)
        own.col(static_cast<Index>(i)) = a->jacobian.col(static_cast<Index>(i)) / box[i];
      for (Index k = 0; k < own.rows(); ++k)
        if (a->middle[k] == 0) own.row(k).setZero();
      const AveragedStep s = averaged_step(*a, own, widths(refined_.best));
      VectorXd step = s.step;
      refined_.settled = true;
      for (std::size_t i = 0; i < unknowns_.size(); ++i) {
        const auto at = static_cast<Index>(i);
        errors[i] = std::sqrt(s.covariance(at, at));
        // No further than the parabola reaches.
        if (i < physical_ && std::abs(step[at]) > box[i]) {
          step[at] = std::copysign(box[i], step[at]);
          refined_.settled = refined_.settled && errors[i] > 3 * box[i];
        }
        step[at] = std::clamp(refined_.best[i] + step[at], unknowns_[i].low, unknowns_[i].high) -
                   refined_.best[i];
        if (i < physical_ && std::abs(step[at]) > std::max(errors[i], 1e-9 * box[i]))
          refined_.settled = false;
        refined_.best[i] += step[at];
      }
      refined_.residuals = a->middle + own * step;
      for (Index k = 0; k < refined_.residuals.size(); ++k)
        if (a->middle[k] == 0) refined_.residuals[k] = 0;
      refined_.jacobian = s.weight.cwiseSqrt().asDiagonal() * own;
      refined_.errors = s.covariance.diagonal().cwiseSqrt();
      refined_.jump = (s.weight.cwiseInverse().array() - 1).max(0).sqrt();
    }
  }

  static Unknown shift_unknown(const Record& record) {
    const Trigger& t = record.channels.front().trigger;
    const double reach = 2 * (t.off - t.on) + 1e-3;
    return {record.name + ": time of the start", t.on, t.on - reach, t.on + reach,
            std::max(t.off - t.on, 1e-9)};
  }
  static Unknown zero_unknown(const RecordedChannel& c) {
    const double reach = std::abs(c.trigger.height);
    return {"zero", c.trigger.base, c.trigger.base - reach, c.trigger.base + reach, reach};
  }

  Point starts() const {
    Point x;
    for (const Unknown& u : unknowns_) x.push_back(u.start);
    return x;
  }
  Point physical_part(const Point& x) const {
    return {x.begin(), x.begin() + static_cast<std::ptrdiff_t>(physical_)};
  }

  // Where the model passes the same share of its own height as the record does at its level.
  static double first_shift(const Record& record, const Curve& curve) {
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

  static bool is_blind(const RecordedChannel& c, const Sample& s, double shift,
                       const std::vector<Interval>& blind) {
    const double slack = 0.5 * c.spacing;
    return std::any_of(blind.begin(), blind.end(), [&](const Interval& b) {
      return s.to - shift + slack > b.from && s.from - shift - slack < b.to;
    });
  }

  static std::vector<double> shown(const RecordedChannel& c, const Curve& curve, double shift) {
    std::vector<Sample> own = c.samples;
    for (Sample& s : own) {
      s.from -= shift;
      s.to -= shift;
    }
    return curve.means(c.channel, own);
  }

  double zero_of(std::size_t record, std::size_t channel, const Point& x) const {
    const std::size_t at = places_[record].zero[channel];
    return at == 0 ? 0 : x[at];
  }

  void add_residuals(std::size_t n, const Curve& curve, const Point& x,
                     std::vector<double>& residuals) const {
    const double shift = x[places_[n].shift];
    const std::vector<Interval> blind = curve.blind();
    for (std::size_t c = 0; c < records_[n].channels.size(); ++c) {
      const RecordedChannel& channel = records_[n].channels[c];
      const std::vector<double> model = shown(channel, curve, shift);
      const double zero = zero_of(n, c, x);
      for (std::size_t k = 0; k < model.size(); ++k) {
        const Sample& s = channel.samples[k];
        const double r = (s.value - zero - model[k]) / s.deviation;
        // Zero means left out.
        residuals.push_back(is_blind(channel, s, shift, blind) ? 0 : r == 0 ? 1e-9 : r);
      }
    }
  }

  std::optional<std::vector<double>> residuals(const std::vector<CurvePtr>& curves,
                                               const Point& x) const {
    std::vector<double> all;
    for (std::size_t n = 0; n < records_.size(); ++n) {
      if (!curves[n]) return std::nullopt;
      add_residuals(n, *curves[n], x, all);
    }
    return all;
  }

  // Samples that either leaves out say nothing.
  static Eigen::VectorXd slope(const std::vector<double>& above, const std::vector<double>& below,
                               double distance) {
    Eigen::VectorXd column(static_cast<Eigen::Index>(above.size()));
    for (std::size_t k = 0; k < above.size(); ++k)
      column[static_cast<Eigen::Index>(k)] =
          above[k] == 0 || below[k] == 0 ? 0 : (above[k] - below[k]) / distance;
    return column;
  }

  std::optional<Linearised> linearised(const Point& x, bool slopes) const {
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
    auto here = residuals(curves.front(), x);
    if (!here) return std::nullopt;
    Linearised answer{std::move(*here), {}};
    if (!slopes) return answer;
    answer.jacobian = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(answer.residuals.size()),
                                            static_cast<Eigen::Index>(unknowns_.size()));
    for (std::size_t i = 0; i < physical_; ++i) {
      const auto below = residuals(curves[1 + 2 * i], x), above = residuals(curves[2 + 2 * i], x);
      // Beside a point that cannot be computed the other side has to do.
      const double low = below ? ends[i].first : x[i], high = above ? ends[i].second : x[i];
      if (high > low)
        answer.jacobian.col(static_cast<Eigen::Index>(i)) =
            slope(above.value_or(answer.residuals), below.value_or(answer.residuals), high - low);
    }
    for (std::size_t n = 0; n < records_.size(); ++n) add_own_slopes(n, curves.front(), x, answer);
    return answer;
  }

  // Slopes to a record's shift and zeros, for which nothing has to be computed anew.
  void add_own_slopes(std::size_t n, const std::vector<CurvePtr>& curves, const Point& x,
                      Linearised& answer) const {
    const double step = 0.25 * records_[n].channels.front().spacing;
    Point early = x, late = x;
    early[places_[n].shift] -= step;
    late[places_[n].shift] += step;
    answer.jacobian.col(static_cast<Eigen::Index>(places_[n].shift)) =
        slope(*residuals(curves, late), *residuals(curves, early), 2 * step);
    Eigen::Index row = 0;
    for (std::size_t r = 0; r < records_.size(); ++r)
      for (std::size_t c = 0; c < records_[r].channels.size(); ++c)
        for (const Sample& s : records_[r].channels[c].samples) {
          const std::size_t at = places_[r].zero[c];
          if (r == n && at != 0 && answer.residuals[static_cast<std::size_t>(row)] != 0)
            answer.jacobian(row, static_cast<Eigen::Index>(at)) = -1 / s.deviation;
          ++row;
        }
  }

  // Looks around each shift for a better one; true if one was found that is worth another fit.
  bool moved_shifts(const Point& best) {
    bool moved = false;
    const auto curves = curves_({physical_part(best)}).front();
    for (std::size_t n = 0; n < records_.size(); ++n) {
      if (!curves[n]) return false;
      const double spacing = records_[n].channels.front().spacing;
      const auto size = [&](double shift) {
        Point x = best;
        x[places_[n].shift] = shift;
        std::vector<double> r;
        add_residuals(n, *curves[n], x, r);
        double sum = 0, count = 0;
        for (const double one : r) {
          sum += one * one;
          count += one != 0 ? 1 : 0;
        }
        return sum / std::max(count, 1.0);
      };
      Unknown& unknown = unknowns_[places_[n].shift];
      double least = 0.98 * size(best[places_[n].shift]);
      for (int k = -16; k <= 16; ++k) {
        const double shift = best[places_[n].shift] + 0.5 * k * spacing;
        if (const double s = size(shift); s < least) {
          least = s;
          unknown.start = shift;
          // Less than a sample's distance the next steps find themselves.
          moved = moved || std::abs(k) > 2;
        }
      }
    }
    return moved;
  }

  std::vector<double> widths(const Point& best) const {
    std::vector<double> all;
    for (std::size_t i = 0; i < unknowns_.size(); ++i)
      all.push_back(i < physical_ ? std::max(std::abs(best[i]), 0.1 * unknowns_[i].scale)
                                  : unknowns_[i].scale);
    return all;
  }

  void describe(const LeastSquares& found, TraceFit& fit) const {
    fit.message = found.residuals.empty() ? found.message
                                          : "the best point still moves by more than its error";
    if (refined_.residuals.size() == 0) {
      fit.computed = false;
      return;
    }
    fit.converged = refined_.settled;
    describe_records(fit);
    const Uncertainty all = uncertainty(refined_.jacobian, widths(refined_.best));
    double worst = 1;
    for (const FittedRecord& r : fit.records)
      for (const FittedChannel& c : r.channels) {
        fit.matches = fit.matches && inference::matches(c.goodness);
        worst = std::max(worst, c.goodness.chi_square);
      }
    if (!fit.matches) fit.stretch = std::sqrt(worst);
    const auto n = static_cast<Index>(physical_);
    fit.values = physical_part(refined_.best);
    fit.correlation = all.correlation.topLeftCorner(n, n);
    for (std::vector<std::size_t> group : all.cannot_tell) {
      std::erase_if(group, [&](std::size_t i) { return i >= physical_; });
      if (!group.empty()) fit.cannot_tell.push_back(std::move(group));
    }
    for (std::size_t i = 0; i < physical_; ++i) {
      // What the records do not tell has no jumps that matter either.
      const double error =
          fit.stretch * std::max(refined_.errors[static_cast<Index>(i)], all.standard_error[i]);
      fit.errors.push_back(error < 1e100 ? error : std::numeric_limits<double>::infinity());
      const double slack = 1e-6 * unknowns_[i].scale;
      fit.at_bound.push_back(refined_.best[i] - unknowns_[i].low < slack ||
                             unknowns_[i].high - refined_.best[i] < slack);
    }
    for (std::size_t r = 0; r < records_.size(); ++r)
      fit.records[r].shift_error =
          fit.stretch * refined_.errors[static_cast<Index>(places_[r].shift)];
  }

  void describe_records(TraceFit& fit) const {
    Index at = 0;
    for (std::size_t r = 0; r < records_.size(); ++r) {
      FittedRecord record{refined_.best[places_[r].shift], 0, {}};
      for (std::size_t c = 0; c < records_[r].channels.size(); ++c) {
        const RecordedChannel& channel = records_[r].channels[c];
        FittedChannel fitted;
        fitted.zero = zero_of(r, c, refined_.best);
        fitted.zero_known = places_[r].zero[c] != 0;
        std::vector<double> counted, in_order;
        double square = 0, jumps = 0;
        for (const Sample& s : channel.samples) {
          const double residual = refined_.residuals[at], jump = refined_.jump[at];
          ++at;
          fitted.residuals.push_back(residual);
          fitted.model.push_back(s.value - fitted.zero - residual * s.deviation);
          if (residual == 0) {
            ++fitted.left_out;
            continue;
          }
          counted.push_back(residual / std::sqrt(1 + jump * jump));
          // Where the model's own jumps are no small part of the noise, order says nothing.
          if (jump < 0.2) in_order.push_back(residual);
          square += residual * residual * s.deviation * s.deviation;
          jumps += jump * jump * s.deviation * s.deviation;
        }
        const double share = counted.empty() ? 1 : static_cast<double>(counted.size());
        fitted.departure = std::sqrt(square / share);
        fitted.jumps = std::sqrt(jumps / share);
        const double freedom = freedom_of_noise * static_cast<double>(channel.points);
        fitted.goodness = goodness(counted, unknowns_.size() / fit_channels() + 1, freedom);
        fitted.goodness.by_order = goodness(in_order, 1, freedom).by_order;
        record.channels.push_back(std::move(fitted));
      }
      fit.records.push_back(std::move(record));
    }
  }

  std::size_t fit_channels() const {
    std::size_t count = 0;
    for (const Record& r : records_) count += r.channels.size();
    return count;
  }

  const Curves& curves_;
  const std::vector<Record>& records_;
  std::vector<Unknown> unknowns_;  // the physical ones first
  std::size_t physical_;
  std::vector<Place> places_;
  Refined refined_;
};

}  // namespace

TraceFit fit_traces(const Curves& curves, const std::vector<Unknown>& unknowns,
                    const std::vector<Record>& records) {
  if (unknowns.empty() || records.empty())
    throw std::invalid_argument("fit_traces(): nothing to fit");
  return Fitting(curves, unknowns, records).answer();
}

}  // namespace tabmelt::inference
