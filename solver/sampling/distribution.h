// How an uncertain number spreads, by name.
//
//   uniform      between two ends
//   normal       mean, standard deviation
//   log-normal   median, factor f > 1: ln x has the standard deviation ln f
//
// Each may be cut to a range of possible values; what remains is a distribution again (of the
// unit probability): quantile(u) = F^-1(F(low) + u (F(high) - F(low))). Quantiles: Boost.Math.
#pragma once

#include <string>

namespace tabmelt::study {

class Distribution {
 public:
  // Each throws std::invalid_argument for ends out of order or a width that is not positive; the
  // log-normal also for a median that is not.
  static Distribution uniform(double low, double high);
  static Distribution normal(double mean, double deviation);
  static Distribution log_normal(double median, double factor);

  // Cut to a range. Throws std::invalid_argument if less than a thousandth of it lies inside.
  Distribution within(double low, double high) const;
  // Share of the probability that within() cut off [1].
  double cut_off() const { return 1 - (to_ - from_); }

  // u in (0, 1). Rises with u.
  double quantile(double u) const;
  std::string name() const;  // "uniform", "normal", "log-normal"

 private:
  enum class Kind { uniform, normal, log_normal };
  Distribution(Kind kind, double first, double second)
      : kind_(kind), first_(first), second_(second) {}
  double whole_quantile(double u) const;
  double probability_below(double x) const;

  Kind kind_;
  double first_, second_;  // low, high; mean, deviation; median, factor
  double from_ = 0, to_ = 1;
};

}  // namespace tabmelt::study
