#include "solver/inference/posterior.h"

#include <Eigen/Dense>
#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

#include "solver/sampling/draws.h"

namespace tabmelt::inference {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double edge = 1e-12;      // of a probability
constexpr double stands_out = 2.5;  // standard deviations

double score(double u) {
  return boost::math::quantile(boost::math::normal_distribution<>(), std::clamp(u, edge, 1 - edge));
}
double probability(double z) {
  return std::clamp(boost::math::cdf(boost::math::normal_distribution<>(), z), edge, 1 - edge);
}

VectorXd scores(const std::vector<double>& u) {
  VectorXd z(u.size());
  for (std::size_t i = 0; i < u.size(); ++i) z[i] = score(u[i]);
  return z;
}

// A normal distribution, as where to draw from.
struct Bell {
  VectorXd mean;
  MatrixXd root;  // Cholesky factor of the covariance

  VectorXd at(const VectorXd& standard) const { return mean + root * standard; }
  // ln of its density over that of the prior.
  double log_ratio(const VectorXd& z) const {
    const VectorXd y = root.triangularView<Eigen::Lower>().solve(z - mean);
    return 0.5 * (z.squaredNorm() - y.squaredNorm()) - root.diagonal().array().log().sum();
  }
};

// exp(l - max l), sum 1; equal where all are impossible.
std::vector<double> normalised(const std::vector<double>& log_weight, double power = 1) {
  const double most = *std::max_element(log_weight.begin(), log_weight.end());
  std::vector<double> weight;
  for (const double l : log_weight)
    weight.push_back(std::isfinite(most) ? std::exp(power * (l - most)) : 1);
  const double sum = std::accumulate(weight.begin(), weight.end(), 0.0);
  for (double& w : weight) w /= sum;
  return weight;
}

// Flattened until `enough` draws share the weight.
std::vector<double> flattened(const std::vector<double>& log_weight, double enough) {
  double low = 0, high = 1;
  if (effective_number(normalised(log_weight)) >= enough) return normalised(log_weight);
  for (int n = 0; n < 40; ++n) {
    const double power = 0.5 * (low + high);
    (effective_number(normalised(log_weight, power)) >= enough ? low : high) = power;
  }
  return normalised(log_weight, low);
}

// Correlations that do not stand out are zero; halved until they belong to a distribution.
Bell bell_of(const VectorXd& mean, const VectorXd& variance, MatrixXd correlation, double number) {
  const std::size_t d = mean.size();
  for (std::size_t i = 0; i < d; ++i)
    for (std::size_t j = 0; j < d; ++j)
      if (i != j && std::abs(correlation(i, j)) < stands_out / std::sqrt(number))
        correlation(i, j) = 0;
  const VectorXd deviation = variance.cwiseSqrt();
  while (true) {
    const MatrixXd covariance = deviation.asDiagonal() * correlation * deviation.asDiagonal();
    const Eigen::LLT<MatrixXd> factor(covariance);
    if (factor.info() == Eigen::Success) return {mean, factor.matrixL()};
    for (std::size_t i = 0; i < d; ++i)
      for (std::size_t j = 0; j < d; ++j)
        if (i != j) correlation(i, j) *= 0.5;
  }
}

Bell fitted(const std::vector<VectorXd>& draws, const std::vector<double>& weight) {
  const std::size_t d = draws.front().size();
  const double number = effective_number(weight);
  VectorXd mean = VectorXd::Zero(d);
  for (std::size_t i = 0; i < draws.size(); ++i) mean += weight[i] * draws[i];
  MatrixXd covariance = MatrixXd::Zero(d, d);
  for (std::size_t i = 0; i < draws.size(); ++i)
    covariance += weight[i] * (draws[i] - mean) * (draws[i] - mean).transpose();
  VectorXd variance = covariance.diagonal().cwiseMax(1e-8);
  const VectorXd deviation = variance.cwiseSqrt();
  const MatrixXd correlation =
      deviation.cwiseInverse().asDiagonal() * covariance * deviation.cwiseInverse().asDiagonal();
  MatrixXd whole = correlation;
  whole.diagonal().setOnes();
  for (std::size_t i = 0; i < d; ++i) {
    if (std::abs(mean[i]) < stands_out * std::sqrt(variance[i] / number)) mean[i] = 0;
    if (std::abs(variance[i] - 1) < stands_out * std::sqrt(2 / number)) variance[i] = 1;
    // A little wide rather than a little narrow: no draw may get a weight without bound.
    if (variance[i] < 1) variance[i] = std::min(1.0, 1.2 * variance[i]);
  }
  return bell_of(mean, variance, whole, number);
}

class Sampler {
 public:
  Sampler(const LogLikelihood& likelihood, std::size_t dimensions, const Drawing& drawing)
      : likelihood_(likelihood), dimensions_(dimensions), drawing_(drawing) {}

  Posterior run() {
    for (int round = 0; round < drawing_.rounds; ++round) {
      draw(round);
      weigh();
      if (round == 0) answer_.effective_at_first = answer_.effective;
      answer_.rounds = round + 1;
      if (answer_.effective >= drawing_.enough) break;
      const double some = std::min(drawing_.enough, 0.2 * static_cast<double>(drawing_.draws));
      bells_.push_back(fitted(scores_, flattened(log_weight_, std::max(some, 5.0))));
    }
    return std::move(answer_);
  }

 private:
  void draw(int round) {
    const auto seed = drawing_.seed + static_cast<std::uint64_t>(round);
    std::vector<std::vector<double>> points = study::even_points(drawing_.draws, dimensions_, seed);
    for (auto& u : points) {
      VectorXd z = scores(u);
      if (round > 0) {
        z = bells_.back().at(z);
        for (std::size_t i = 0; i < u.size(); ++i) u[i] = probability(z[i]);
        z = scores(u);  // what the clamped probability stands for
      }
      scores_.push_back(std::move(z));
    }
    const std::vector<double> more = likelihood_(points);
    answer_.log_likelihood.insert(answer_.log_likelihood.end(), more.begin(), more.end());
    answer_.points.insert(answer_.points.end(), points.begin(), points.end());
  }

  void weigh() {
    const double share = 1.0 / static_cast<double>(bells_.size() + 1);
    log_weight_.clear();
    for (std::size_t i = 0; i < scores_.size(); ++i) {
      double density = share;  // over that of the prior
      for (const Bell& bell : bells_) density += share * std::exp(bell.log_ratio(scores_[i]));
      log_weight_.push_back(answer_.log_likelihood[i] - std::log(density));
    }
    answer_.weight = normalised(log_weight_);
    answer_.effective = effective_number(answer_.weight);
    const double most = *std::max_element(log_weight_.begin(), log_weight_.end());
    double sum = 0;
    for (const double l : log_weight_) sum += std::isfinite(most) ? std::exp(l - most) : 0;
    answer_.log_evidence = most + std::log(sum / static_cast<double>(log_weight_.size()));
  }

  const LogLikelihood& likelihood_;
  std::size_t dimensions_;
  Drawing drawing_;
  Posterior answer_;
  std::vector<VectorXd> scores_;
  std::vector<double> log_weight_;
  std::vector<Bell> bells_;
};

}  // namespace

double effective_number(const std::vector<double>& weight) {
  double sum = 0, square = 0;
  for (const double w : weight) {
    sum += w;
    square += w * w;
  }
  return square > 0 ? sum * sum / square : 0;
}

double weighted_quantile(const std::vector<double>& values, const std::vector<double>& weight,
                         double share) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  const double all = std::accumulate(weight.begin(), weight.end(), 0.0);
  double sum = 0;
  for (const std::size_t i : order) {
    sum += weight[i];
    if (sum >= share * all) return values[i];
  }
  return order.empty() ? 0 : values[order.back()];
}

std::vector<std::size_t> resampled(const std::vector<double>& weight, std::size_t count) {
  std::vector<std::size_t> chosen;
  double sum = 0;
  for (std::size_t i = 0; i < weight.size(); ++i) {
    sum += weight[i];
    while (chosen.size() < count &&
           sum * static_cast<double>(count) > static_cast<double>(chosen.size()) + 0.5)
      chosen.push_back(i);
  }
  while (chosen.size() < count) chosen.push_back(weight.size() - 1);
  return chosen;
}

Moments moments(const Posterior& p, std::size_t unknown) {
  Moments m;
  double square = 0;
  m.mean = 0;
  for (std::size_t i = 0; i < p.points.size(); ++i)
    m.mean += p.weight[i] * score(p.points[i][unknown]);
  for (std::size_t i = 0; i < p.points.size(); ++i) {
    const double off = score(p.points[i][unknown]) - m.mean;
    square += p.weight[i] * off * off;
  }
  m.deviation = std::sqrt(square);
  return m;
}

Posterior posterior(const LogLikelihood& likelihood, std::size_t dimensions,
                    const Drawing& drawing) {
  if (dimensions == 0 || drawing.draws == 0 || drawing.rounds < 1)
    throw std::invalid_argument("posterior(): nothing to draw");
  return Sampler(likelihood, dimensions, drawing).run();
}

}  // namespace tabmelt::inference
