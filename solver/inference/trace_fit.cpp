#include "solver/inference/trace_fit.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "solver/inference/averaged.h"
#include "solver/inference/trace_residuals.h"
#include "solver/sampling/draws.h"

namespace tabmelt::inference {
namespace {

constexpr int rounds = 3;  // of fit and search for the shift
constexpr int coarse_iterations = 12;
constexpr int averaging_rounds = 5;
constexpr double averaging_box = 0.02;  // of an unknown's scale
// The noise comes from second differences by their median: of the variance it tells as much as
// this share of independent values would (0.37 of the median, 1/1.94 of overlapping differences).
constexpr double freedom_of_noise = 0.19;

using Eigen::MatrixXd;
using Eigen::VectorXd;

using Point = std::vector<double>;

class Fitting {
 public:
  Fitting(const Curves& curves, const std::vector<Unknown>& unknowns,
          const std::vector<Record>& records, double scale_error)
      : curves_(curves),
        records_(records),
        residuals_(curves, unknowns, records, scale_error),
        unknowns_(residuals_.unknowns()),
        physical_(unknowns.size()) {}

  TraceFit answer() {
    TraceFit fit;
    Point start;
    for (const Unknown& u : unknowns_) start.push_back(u.start);
    const auto first = curves_({physical_part(start)}).front();
    if (std::find(first.begin(), first.end(), nullptr) != first.end()) return fit;
    fit.computed = true;
    residuals_.place_starts(first);
    LeastSquares found;
    const Model model = [this](const Point& x, bool slopes) {
      return residuals_.linearised(x, slopes);
    };
    for (int round = 0; round < rounds; ++round) {
      found = least_squares(model, unknowns_, coarse_iterations);
      fit.iterations += found.iterations;
      for (std::size_t i = 0; i < unknowns_.size(); ++i) unknowns_[i].start = found.best[i];
      if (!residuals_.moved_shifts(found.best)) break;
    }
    if (!found.residuals.empty()) refine(found);
    describe(found, fit);
    return fit;
  }

 private:
  Point physical_part(const Point& x) const { return residuals_.physical_part(x); }

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
      if (auto r = residuals_.at(curves[j], x)) {
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
    const std::size_t count = own.rows();
    for (int round = 0; round < averaging_rounds && !refined_.settled; ++round) {
      const std::vector<double> box = boxes();
      const auto a = around(refined_.best, box, 1 + static_cast<std::uint64_t>(round));
      if (!a) return;
      for (std::size_t i = 0; i < physical_; ++i) own.col(i) = a->jacobian.col(i) / box[i];
      for (std::size_t k = 0; k < count; ++k)
        if (a->middle[k] == 0) own.row(k).setZero();
      const AveragedStep s = averaged_step(*a, own, widths(refined_.best));
      VectorXd step = s.step;
      refined_.settled = true;
      for (std::size_t i = 0; i < unknowns_.size(); ++i) {
        errors[i] = std::sqrt(s.covariance(i, i));
        // No further than the parabola reaches.
        if (i < physical_ && std::abs(step[i]) > box[i]) {
          step[i] = std::copysign(box[i], step[i]);
          refined_.settled = refined_.settled && errors[i] > 3 * box[i];
        }
        step[i] = std::clamp(refined_.best[i] + step[i], unknowns_[i].low, unknowns_[i].high) -
                  refined_.best[i];
        if (i < physical_ && std::abs(step[i]) > std::max(errors[i], 1e-9 * box[i]))
          refined_.settled = false;
        refined_.best[i] += step[i];
      }
      refined_.residuals = a->middle + own * step;
      for (std::size_t k = 0; k < count; ++k)
        if (a->middle[k] == 0) refined_.residuals[k] = 0;
      refined_.jacobian = s.weight.cwiseSqrt().asDiagonal() * own;
      refined_.errors = s.covariance.diagonal().cwiseSqrt();
      refined_.jump = (s.weight.cwiseInverse().array() - 1).max(0).sqrt();
    }
  }

  std::vector<double> widths(const Point& best) const {
    std::vector<double> all;
    for (std::size_t i = 0; i < unknowns_.size(); ++i)
      all.push_back(i < physical_ ? std::max(std::abs(best[i]), 0.1 * unknowns_[i].scale)
                                  : unknowns_[i].scale);
    // What is known of the scale is among the residuals already.
    if (const auto scale = residuals_.scale_place()) all[*scale] = 1;
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
    const auto n = physical_;
    fit.values = physical_part(refined_.best);
    fit.correlation = all.correlation.topLeftCorner(n, n);
    for (std::vector<std::size_t> group : all.cannot_tell) {
      std::erase_if(group, [&](std::size_t i) { return i >= physical_; });
      if (!group.empty()) fit.cannot_tell.push_back(std::move(group));
    }
    for (std::size_t i = 0; i < physical_; ++i) {
      // What the records do not tell has no jumps that matter either.
      const double error = fit.stretch * std::max(refined_.errors[i], all.standard_error[i]);
      fit.errors.push_back(error < 1e100 ? error : std::numeric_limits<double>::infinity());
      const double slack = 1e-6 * unknowns_[i].scale;
      fit.at_bound.push_back(refined_.best[i] - unknowns_[i].low < slack ||
                             unknowns_[i].high - refined_.best[i] < slack);
    }
    for (std::size_t r = 0; r < records_.size(); ++r)
      fit.records[r].shift_error = fit.stretch * refined_.errors[residuals_.shift_place(r)];
    fit.scale = residuals_.scale_of(refined_.best);
    if (const auto scale = residuals_.scale_place()) fit.scale_error = refined_.errors[*scale];
  }

  void describe_records(TraceFit& fit) const {
    std::size_t at = 0;
    for (std::size_t r = 0; r < records_.size(); ++r) {
      FittedRecord record{refined_.best[residuals_.shift_place(r)], 0, {}};
      for (std::size_t c = 0; c < records_[r].channels.size(); ++c) {
        const RecordedChannel& channel = records_[r].channels[c];
        FittedChannel fitted;
        const std::size_t zero = residuals_.zero_place(r, c);
        fitted.zero = zero == 0 ? 0 : refined_.best[zero];
        fitted.zero_known = zero != 0;
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
  TraceResiduals residuals_;
  std::vector<Unknown>& unknowns_;  // of the residuals: the physical ones first
  std::size_t physical_;
  Refined refined_;
};

}  // namespace

TraceFit fit_traces(const Curves& curves, const std::vector<Unknown>& unknowns,
                    const std::vector<Record>& records, double scale_error) {
  if (unknowns.empty() || records.empty())
    throw std::invalid_argument("fit_traces(): nothing to fit");
  return Fitting(curves, unknowns, records, scale_error).answer();
}

}  // namespace tabmelt::inference
