#include "solver/inference/averaged.h"

#include <algorithm>
#include <cmath>

namespace tabmelt::inference {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

std::size_t coefficients(std::size_t unknowns) { return (unknowns + 1) * (unknowns + 2) / 2; }

// 1, x_i, x_i x_j of each point.
MatrixXd parabola(const std::vector<std::vector<double>>& offsets) {
  const std::size_t k = offsets.front().size();
  MatrixXd terms(offsets.size(), coefficients(k));
  for (std::size_t j = 0; j < offsets.size(); ++j) {
    std::size_t column = 0;
    terms(j, column++) = 1;
    for (std::size_t i = 0; i < k; ++i) terms(j, column++) = offsets[j][i];
    for (std::size_t i = 0; i < k; ++i)
      for (std::size_t l = i; l < k; ++l) terms(j, column++) = offsets[j][i] * offsets[j][l];
  }
  return terms;
}

}  // namespace

std::size_t points_wanted(std::size_t unknowns) { return 2 * coefficients(unknowns); }

Averaged averaged(const std::vector<std::vector<double>>& offsets,
                  const std::vector<std::vector<double>>& residuals) {
  const auto points = offsets.size();
  const auto count = residuals.front().size();
  const auto k = offsets.front().size();
  MatrixXd values(points, count);
  for (std::size_t j = 0; j < points; ++j)
    values.row(j) = Eigen::Map<const Eigen::RowVectorXd>(residuals[j].data(), count);
  const MatrixXd terms = parabola(offsets);
  const Eigen::CompleteOrthogonalDecomposition<MatrixXd> solver(terms);
  const MatrixXd found = solver.solve(values);
  Averaged a;
  a.middle = found.row(0).transpose();
  a.jacobian = found.middleRows(1, k).transpose();
  const double free = std::max(1.0, static_cast<double>(points - solver.rank()));
  a.jumps = std::sqrt(static_cast<double>(points) / free) * (values - terms * found).transpose();
  const MatrixXd inverse = solver.pseudoInverse();
  a.left = inverse.row(0).squaredNorm();
  return a;
}

AveragedStep averaged_step(const Averaged& a, const MatrixXd& jacobian,
                           const std::vector<double>& width) {
  AveragedStep s;
  const auto points = static_cast<double>(a.jumps.cols());
  const std::size_t n = jacobian.cols(), rows = jacobian.rows();
  const VectorXd square = a.jumps.rowwise().squaredNorm() / points;
  s.weight = (1 + square.array()).inverse();
  const VectorXd root = s.weight.cwiseSqrt();
  // Columns in proportion, so that unknowns of any size may stand side by side; below them one j
  // for each, which holds it.
  const VectorXd size = jacobian.colwise().norm().cwiseMax(1e-300).transpose();
  MatrixXd all = MatrixXd::Zero(rows + n, n);
  all.topRows(rows) = root.asDiagonal() * jacobian * size.cwiseInverse().asDiagonal();
  for (std::size_t i = 0; i < n; ++i) all(rows + i, i) = 1 / (width[i] * size[i]);
  const MatrixXd inverse = all.completeOrthogonalDecomposition().pseudoInverse();
  // A J^T W, from the square roots of the weights.
  const MatrixXd gain =
      size.cwiseInverse().asDiagonal() * inverse.leftCols(rows) * root.asDiagonal();
  s.step = -gain * a.middle;
  const MatrixXd moved = gain * a.jumps;
  s.covariance = gain * gain.transpose() + (1 + a.left) / points * moved * moved.transpose();
  return s;
}

}  // namespace tabmelt::inference
