#include "solver/sampling/sensitivity.h"

#include <Eigen/Cholesky>
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <random>
#include <stdexcept>

namespace tabmelt::study {
namespace {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;
using Row = Eigen::Index;

constexpr int most_cosines = 8;
constexpr int resamples = 100;

int cosines_for(std::size_t runs, std::size_t inputs) {
  return std::min(most_cosines, static_cast<int>(runs / (4 * inputs)));
}

Matrix design(const std::vector<std::vector<double>>& points, int cosines) {
  const Row runs = static_cast<Row>(points.size()), inputs = static_cast<Row>(points[0].size());
  Matrix a(runs, 1 + inputs * cosines);
  a.col(0).setOnes();
  for (Row n = 0; n < runs; ++n)
    for (Row i = 0; i < inputs; ++i)
      for (int k = 1; k <= cosines; ++k)
        a(n, i * cosines + k) =
            std::numbers::sqrt2 *
            std::cos(std::numbers::pi * k *
                     points[static_cast<std::size_t>(n)][static_cast<std::size_t>(i)]);
  return a;
}

double variance_of(const Vector& y) {
  return (y.array() - y.mean()).square().sum() / static_cast<double>(y.size());
}

// The indices of one sample.
std::vector<double> indices(const Matrix& a, const Vector& y, Row inputs, int cosines) {
  const double variance = variance_of(y);
  std::vector<double> result(static_cast<std::size_t>(inputs), 0.0);
  if (!(variance > 0)) return result;
  const Matrix normal = a.transpose() * a;
  const Eigen::LDLT<Matrix> solved(normal);
  const Vector c = solved.solve(a.transpose() * y);
  const double spare = static_cast<double>(std::max<Row>(1, a.rows() - a.cols()));
  const double residual = (y - a * c).squaredNorm() / spare;
  const Matrix inverse = solved.solve(Matrix::Identity(a.cols(), a.cols()));
  for (Row i = 0; i < inputs; ++i) {
    double explained = 0;
    for (int k = 1; k <= cosines; ++k) {
      const Row column = i * cosines + k;
      explained += c(column) * c(column) - residual * inverse(column, column);
    }
    result[static_cast<std::size_t>(i)] = explained / variance;
  }
  return result;
}

double correlation(const std::vector<double>& a, const std::vector<double>& b) {
  const auto n = static_cast<double>(a.size());
  const double mean_a = std::accumulate(a.begin(), a.end(), 0.0) / n;
  const double mean_b = std::accumulate(b.begin(), b.end(), 0.0) / n;
  double ab = 0, aa = 0, bb = 0;
  for (std::size_t k = 0; k < a.size(); ++k) {
    ab += (a[k] - mean_a) * (b[k] - mean_b);
    aa += (a[k] - mean_a) * (a[k] - mean_a);
    bb += (b[k] - mean_b) * (b[k] - mean_b);
  }
  return aa > 0 && bb > 0 ? ab / std::sqrt(aa * bb) : 0;
}

void add_deviations(Sensitivity& result, const Matrix& a, const Vector& y, int cosines,
                    std::uint64_t seed) {
  std::mt19937_64 engine(seed);
  const Row runs = a.rows();
  const std::size_t inputs = result.first_order.size();
  std::vector<double> sum(inputs, 0.0), squares(inputs, 0.0);
  for (int n = 0; n < resamples; ++n) {
    Matrix some(runs, a.cols());
    Vector values(runs);
    for (Row r = 0; r < runs; ++r) {
      // Modulo: the same on every machine; its bias is below 1e-15.
      const Row taken = static_cast<Row>(engine() % static_cast<std::uint64_t>(runs));
      some.row(r) = a.row(taken);
      values(r) = y(taken);
    }
    const auto again = indices(some, values, static_cast<Row>(inputs), cosines);
    for (std::size_t i = 0; i < inputs; ++i) {
      sum[i] += again[i];
      squares[i] += again[i] * again[i];
    }
  }
  for (std::size_t i = 0; i < inputs; ++i) {
    const double mean = sum[i] / resamples;
    result.first_order[i].deviation =
        std::sqrt(std::max(0.0, squares[i] / resamples - mean * mean));
  }
}

}  // namespace

std::vector<double> ranks(const std::vector<double>& values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), 0u);
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<double> rank(values.size());
  for (std::size_t n = 0; n < order.size();) {
    std::size_t end = n;
    while (end < order.size() && values[order[end]] == values[order[n]]) ++end;
    for (std::size_t m = n; m < end; ++m)
      rank[order[m]] = 0.5 * static_cast<double>(n + end - 1);  // equal values share a rank
    n = end;
  }
  return rank;
}

Sensitivity sensitivity(const std::vector<std::vector<double>>& points,
                        const std::vector<double>& values, std::uint64_t seed) {
  if (points.size() != values.size() || points.empty() || points[0].empty())
    throw std::invalid_argument("sensitivity(): a value for each point");
  const std::size_t inputs = points[0].size();
  Sensitivity result;
  result.first_order.resize(inputs);
  const Vector y = Eigen::Map<const Vector>(values.data(), static_cast<Row>(values.size()));
  result.variance = variance_of(y);
  const int cosines = cosines_for(points.size(), inputs);
  if (cosines < 1 || !(result.variance > 0)) return result;

  const Matrix a = design(points, cosines);
  const auto first = indices(a, y, static_cast<Row>(inputs), cosines);
  result.together = 1;
  const std::vector<double> rank_y = ranks(values);
  for (std::size_t i = 0; i < inputs; ++i) {
    result.first_order[i].value = first[i];
    result.together -= first[i];
    std::vector<double> u;
    for (const auto& point : points) u.push_back(point[i]);
    result.first_order[i].slope = correlation(ranks(u), rank_y);
  }
  add_deviations(result, a, y, cosines, seed);
  return result;
}

}  // namespace tabmelt::study
