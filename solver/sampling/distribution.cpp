#include "solver/sampling/distribution.h"

#include <algorithm>
#include <boost/math/distributions/lognormal.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/uniform.hpp>
#include <cmath>
#include <stdexcept>

namespace tabmelt::study {
namespace {

// Beyond them a quantile of the normal distribution is not finite.
constexpr double least_u = 1e-12;

boost::math::normal_distribution<> bell(double mean, double deviation) {
  return boost::math::normal_distribution<>(mean, deviation);
}

boost::math::lognormal_distribution<> skewed(double median, double factor) {
  return boost::math::lognormal_distribution<>(std::log(median), std::log(factor));
}

void require(bool condition, const char* message) {
  if (!condition) throw std::invalid_argument(message);
}

}  // namespace

Distribution Distribution::uniform(double low, double high) {
  require(std::isfinite(low) && std::isfinite(high) && low < high, "uniform: no width");
  return {Kind::uniform, low, high};
}

Distribution Distribution::normal(double mean, double deviation) {
  require(std::isfinite(mean) && std::isfinite(deviation) && deviation > 0, "normal: no width");
  return {Kind::normal, mean, deviation};
}

Distribution Distribution::log_normal(double median, double factor) {
  require(std::isfinite(median) && median > 0, "log-normal: the median must be positive");
  require(std::isfinite(factor) && factor > 1, "log-normal: the factor must be above 1");
  return {Kind::log_normal, median, factor};
}

Distribution Distribution::within(double low, double high) const {
  Distribution cut = *this;
  cut.from_ = std::max(from_, probability_below(low));
  cut.to_ = std::min(to_, probability_below(high));
  require(cut.to_ - cut.from_ > 1e-3, "all of the spread lies outside the possible values");
  return cut;
}

double Distribution::probability_below(double x) const {
  switch (kind_) {
    case Kind::uniform:
      return std::clamp((x - first_) / (second_ - first_), 0.0, 1.0);
    case Kind::normal:
      if (std::isinf(x)) return x > 0 ? 1 : 0;
      return boost::math::cdf(bell(first_, second_), x);
    case Kind::log_normal:
      if (x <= 0) return 0;
      if (std::isinf(x)) return 1;
      return boost::math::cdf(skewed(first_, second_), x);
  }
  return 0;
}

double Distribution::whole_quantile(double u) const {
  switch (kind_) {
    case Kind::uniform:
      return first_ + u * (second_ - first_);
    case Kind::normal:
      return boost::math::quantile(bell(first_, second_), u);
    case Kind::log_normal:
      return boost::math::quantile(skewed(first_, second_), u);
  }
  return first_;
}

double Distribution::quantile(double u) const {
  return whole_quantile(std::clamp(from_ + u * (to_ - from_), least_u, 1 - least_u));
}

std::string Distribution::name() const {
  switch (kind_) {
    case Kind::uniform:
      return "uniform";
    case Kind::normal:
      return "normal";
    case Kind::log_normal:
      return "log-normal";
  }
  return "";
}

}  // namespace tabmelt::study
