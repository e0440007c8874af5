// Records less model, with the unknowns of a record's own: of trace_fit.h.
//
// Beside the physical unknowns stand, in this order: the time of the start of each record with the
// zeros of its channels, and the scale of the current if its calibration is uncertain. They cost no
// run: only the curve of a point does.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "solver/inference/trace_fit.h"

namespace tabmelt::inference {

class TraceResiduals {
 public:
  using Point = std::vector<double>;
  using CurvePtrs = std::vector<std::shared_ptr<const Curve>>;

  // `scale_error`: standard deviation of the current's scale [1]; 0: known.
  TraceResiduals(const Curves&, const std::vector<Unknown>& physical, const std::vector<Record>&,
                 double scale_error);

  std::vector<Unknown>& unknowns() { return unknowns_; }
  const std::vector<Unknown>& unknowns() const { return unknowns_; }
  std::size_t physical() const { return physical_; }
  Point physical_part(const Point& x) const {
    return {x.begin(), x.begin() + static_cast<std::ptrdiff_t>(physical_)};
  }
  std::size_t shift_place(std::size_t record) const { return places_[record].shift; }
  // [1] by which the current is recorded too large
  double scale_of(const Point& x) const { return scale_ == 0 ? 0 : x[scale_]; }
  std::optional<std::size_t> scale_place() const;
  // 0 where the zero of this channel is not fitted.
  std::size_t zero_place(std::size_t record, std::size_t channel) const {
    return places_[record].zero[channel];
  }

  // Starts from where record and model pass the same share of their heights.
  void place_starts(const CurvePtrs&);
  // Looks around each shift for a better one; true if one was found that is worth another fit.
  bool moved_shifts(const Point& best);

  // All samples in order, 0 for those left out; then the scale's own. Nothing where a curve is
  // missing.
  std::optional<std::vector<double>> at(const CurvePtrs&, const Point& x) const;
  // The same with slopes, of the physical unknowns from central differences.
  std::optional<Linearised> linearised(const Point& x, bool slopes) const;

 private:
  struct Place {  // of one record's own unknowns
    std::size_t shift = 0;
    std::vector<std::size_t> zero;  // of each channel; 0: not fitted
  };

  double zero_of(std::size_t record, std::size_t channel, const Point& x) const;
  void add(std::size_t record, const Curve&, const Point& x, std::vector<double>&) const;
  double size_at(std::size_t record, const Curve&, const Point& x) const;
  void add_shift_slope(std::size_t record, const CurvePtrs&, const Point& x, Linearised&) const;
  void add_linear_slopes(const Point& x, Linearised&) const;

  const Curves& curves_;
  const std::vector<Record>& records_;
  std::vector<Unknown> unknowns_;  // the physical ones first
  std::size_t physical_;
  std::vector<Place> places_;
  double scale_error_;
  std::size_t scale_ = 0;  // 0: not fitted
};

}  // namespace tabmelt::inference
