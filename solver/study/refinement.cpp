#include "solver/study/refinement.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace tabmelt {
namespace {

constexpr double lowest_order = 1;
constexpr double highest_order = 2;

double difference_ratio(const std::array<double, 3>& h, double p) {
  return (std::pow(h[0], p) - std::pow(h[1], p)) / (std::pow(h[1], p) - std::pow(h[2], p));
}

// The ratio grows with the order for h1 > h2 > h3, so halving finds the one between the limits.
double order_of(const std::array<double, 3>& h, double ratio) {
  double low = lowest_order, high = highest_order;
  for (int n = 0; n < 60; ++n) {
    const double middle = 0.5 * (low + high);
    (difference_ratio(h, middle) < ratio ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

Convergence convergence_of(const std::array<double, 3>& h, double first, double second) {
  if (first * second < 0) return Convergence::oscillating;
  // Limits widened by the round-off of values that lie on them.
  constexpr double slack = 1e-6;
  if (std::abs(first) < (1 - slack) * difference_ratio(h, lowest_order) * std::abs(second)) {
    return Convergence::slower;
  }
  if (std::abs(first) > (1 + slack) * difference_ratio(h, highest_order) * std::abs(second)) {
    return Convergence::faster;
  }
  return Convergence::orderly;
}

double order_used(const std::array<double, 3>& h, Convergence convergence, double ratio) {
  switch (convergence) {
    case Convergence::orderly:
      return order_of(h, ratio);
    case Convergence::slower:
    case Convergence::oscillating:
      return lowest_order;
    case Convergence::settled:
    case Convergence::faster:
      break;
  }
  return highest_order;
}

}  // namespace

Extrapolation extrapolated(const std::array<double, 3>& h, const std::array<double, 3>& f) {
  if (!(h[0] > h[1] && h[1] > h[2] && h[2] > 0 && std::isfinite(h[0]))) {
    throw std::invalid_argument("extrapolated(): sizes must be positive and fall");
  }
  if (!std::all_of(f.begin(), f.end(), [](double value) { return std::isfinite(value); })) {
    throw std::invalid_argument("extrapolated(): values must be finite");
  }
  const auto [smallest, largest] = std::minmax_element(f.begin(), f.end());
  const double spread = *largest - *smallest;
  Extrapolation e;
  e.value = f[2];
  const double size = std::max(std::abs(*smallest), std::abs(*largest));
  if (spread <= 16 * std::numeric_limits<double>::epsilon() * size) return e;

  const double first = f[0] - f[1], second = f[1] - f[2];
  e.convergence = convergence_of(h, first, second);
  e.order = order_used(h, e.convergence, first / second);
  const double fine = std::pow(h[2], e.order);
  e.value = f[2] - second * fine / (std::pow(h[1], e.order) - fine);
  e.error = f[0] - e.value;
  const double safety = e.convergence == Convergence::orderly ? 1.25 : 3.0;
  e.band = safety * std::max(std::abs(e.error), spread);
  return e;
}

Problem refined(const Problem& problem, double factor) {
  if (!(factor > 0 && std::isfinite(factor))) {
    throw std::invalid_argument("refined(): the factor must be positive");
  }
  Problem finer = problem;
  Numerics& n = finer.numerics;
  n.resolution *= factor;
  n.first_step /= factor;
  n.longest_step /= factor;
  n.step_tolerance /= factor * factor;
  n.coupling_tolerance /= factor * factor;
  n.newton_tolerance /= factor * factor;
  return finer;
}

double relative_cell_size(const Result& result) {
  return 1 / std::sqrt(static_cast<double>(result.grid.cells()));
}

std::vector<Figure> judged_figures(const Problem& problem, const Result& result) {
  const double ambient = problem.boundary.ambient;
  std::vector<Figure> figures;
  const auto at_joint = [&](const std::string& words, std::size_t n) {
    return problem.joints() == 1 ? words : words + ", " + joint_name(problem, n);
  };
  for (std::size_t n = 0; n < result.joints.size(); ++n)
    figures.push_back({at_joint("nugget diameter", n), "m", result.joints[n].nugget.value, 0});
  for (std::size_t n = 0; n < result.joints.size(); ++n)
    figures.push_back(
        {at_joint("hottest of the joint", n), "K", result.joints[n].peak.value, ambient});
  figures.push_back({"hottest of the strip's top", "K", result.peak_top.value, ambient});
  figures.push_back({"hottest of the inner wall", "K", result.peak_inner_wall.value, ambient});
  for (std::size_t n = problem.inner.size(); n > 0; --n) {
    // Entry 0 of the records is the inner wall.
    if (n >= result.inner_wall_and_layers.size()) continue;
    const LayerRecord& layer = result.inner_wall_and_layers[n];
    if (!is_judged(layer)) continue;
    figures.push_back({"hottest of " + layer.name, "K", layer.peak.value, ambient});
    break;
  }
  figures.push_back({"peak current", "A", result.peak_current.value, 0});
  return figures;
}

}  // namespace tabmelt
