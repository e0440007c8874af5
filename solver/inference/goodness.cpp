#include "solver/inference/goodness.h"

#include <algorithm>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/normal.hpp>
#include <cmath>

namespace tabmelt::inference {
namespace {

double chance_of_runs(const std::vector<double>& residuals) {
  double up = 0, down = 0, runs = 0, last = 0;
  for (const double r : residuals) {
    if (r == 0) continue;
    (r > 0 ? up : down) += 1;
    if (r * last <= 0) runs += 1;
    last = r;
  }
  const double n = up + down;
  if (n < 2) return 1;
  if (up == 0 || down == 0) return std::pow(0.5, n - 1);  // all of one sign
  const double mean = 1 + 2 * up * down / n;
  const double variance = (mean - 1) * (mean - 2) / (n - 1);
  if (!(variance > 0)) return 1;
  return boost::math::cdf(boost::math::normal_distribution<>(mean, std::sqrt(variance)),
                          runs + 0.5);
}

}  // namespace

Goodness goodness(const std::vector<double>& residuals, std::size_t unknowns,
                  double noise_freedom) {
  Goodness g;
  g.by_order = chance_of_runs(residuals);
  if (residuals.size() <= unknowns) return g;
  const auto freedom = static_cast<double>(residuals.size() - unknowns);
  double sum = 0;
  for (const double r : residuals) sum += r * r;
  g.chi_square = sum / freedom;
  const boost::math::fisher_f_distribution<> ratio(freedom, std::max(noise_freedom, 1.0));
  g.by_size = boost::math::cdf(boost::math::complement(ratio, g.chi_square));
  return g;
}

}  // namespace tabmelt::inference
