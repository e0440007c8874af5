#include "solver/inference/least_squares.h"

#include <ceres/ceres.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace tabmelt::inference {
namespace {

using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

class Cost : public ceres::CostFunction {
 public:
  Cost(const Model& model, const std::vector<Unknown>& unknowns, std::size_t residuals)
      : model_(model), unknowns_(unknowns) {
    set_num_residuals(static_cast<int>(residuals));
    mutable_parameter_block_sizes()->push_back(static_cast<int>(unknowns.size()));
  }
  // Unknowns in their scales, so that a trust region means the same for all of them.
  bool Evaluate(double const* const* parameters, double* residuals,
                double** jacobians) const override {
    const bool slopes = jacobians != nullptr && jacobians[0] != nullptr;
    std::vector<double> x(unknowns_.size());
    for (std::size_t i = 0; i < x.size(); ++i) x[i] = parameters[0][i] * unknowns_[i].scale;
    const auto there = model_(x, slopes);
    if (!there || static_cast<int>(there->residuals.size()) != num_residuals()) return false;
    std::copy(there->residuals.begin(), there->residuals.end(), residuals);
    if (!slopes) return true;
    Eigen::Map<RowMajor> matrix(jacobians[0], num_residuals(), unknowns_.size());
    matrix = there->jacobian;
    for (std::size_t i = 0; i < unknowns_.size(); ++i) matrix.col(i) *= unknowns_[i].scale;
    return true;
  }

 private:
  const Model& model_;
  const std::vector<Unknown>& unknowns_;
};

void require(bool condition, const std::string& message) {
  if (!condition) throw std::invalid_argument(message);
}

// Ceres logs through glog, which would write to standard error.
ceres::Solver::Options quiet_options(int most_iterations) {
  ceres::Solver::Options options;
  options.max_num_iterations = most_iterations;
  options.linear_solver_type = ceres::DENSE_QR;
  options.logging_type = ceres::SILENT;
  options.num_threads = 1;
  // Steps of the model's own accuracy are no headway.
  options.function_tolerance = 1e-6;
  options.parameter_tolerance = 1e-7;
  return options;
}

}  // namespace

LeastSquares least_squares(const Model& model, const std::vector<Unknown>& unknowns,
                           int most_iterations) {
  LeastSquares answer;
  for (const Unknown& u : unknowns) {
    require(u.low <= u.start && u.start <= u.high && u.scale > 0,
            u.name + ": the start lies outside its bounds");
    answer.best.push_back(u.start);
  }
  const auto first = model(answer.best, false);
  require(first.has_value(), "the model cannot be computed at the start");
  require(first->residuals.size() >= unknowns.size(), "fewer values than unknowns");

  std::vector<double> x;
  for (const Unknown& u : unknowns) x.push_back(u.start / u.scale);
  ceres::Problem problem;
  problem.AddResidualBlock(new Cost(model, unknowns, first->residuals.size()), nullptr, x.data());
  for (std::size_t i = 0; i < x.size(); ++i) {
    problem.SetParameterLowerBound(x.data(), static_cast<int>(i),
                                   unknowns[i].low / unknowns[i].scale);
    problem.SetParameterUpperBound(x.data(), static_cast<int>(i),
                                   unknowns[i].high / unknowns[i].scale);
  }
  ceres::Solver::Summary summary;
  ceres::Solve(quiet_options(most_iterations), &problem, &summary);
  answer.converged = summary.termination_type == ceres::CONVERGENCE;
  answer.message = summary.message;
  answer.iterations = static_cast<int>(summary.iterations.size());
  for (std::size_t i = 0; i < x.size(); ++i)
    answer.best[i] = std::clamp(x[i] * unknowns[i].scale, unknowns[i].low, unknowns[i].high);
  auto last = model(answer.best, true);
  if (!last) {
    answer.converged = false;
    return answer;
  }
  answer.residuals = std::move(last->residuals);
  answer.jacobian = std::move(last->jacobian);
  return answer;
}

Uncertainty uncertainty(const Eigen::MatrixXd& jacobian, const std::vector<double>& width) {
  const auto n = width.size();
  Eigen::MatrixXd scaled = jacobian;
  for (std::size_t i = 0; i < n; ++i) scaled.col(i) *= width[i];
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(scaled, Eigen::ComputeThinV);
  const Eigen::VectorXd& s = svd.singularValues();
  const std::size_t told_directions = s.size();
  Uncertainty answer;
  constexpr double told = 1;  // a singular value below it leaves the whole width open
  constexpr double share = 0.1;
  Eigen::VectorXd inverse = Eigen::VectorXd::Zero(n);
  for (std::size_t k = 0; k < n; ++k) {
    const double value = k < told_directions ? s[k] : 0;
    inverse[k] = 1 / std::max(value, std::numeric_limits<double>::min());
    if (value >= told) continue;
    std::vector<std::size_t> group;
    for (std::size_t i = 0; i < n; ++i)
      if (std::abs(svd.matrixV()(i, k)) > share) group.push_back(i);
    std::stable_sort(group.begin(), group.end(), [&](std::size_t a, std::size_t b) {
      return std::abs(svd.matrixV()(a, k)) > std::abs(svd.matrixV()(b, k));
    });
    answer.cannot_tell.push_back(std::move(group));
  }
  // C = V S^-2 V^T, with the columns in proportion so that nothing overflows.
  const Eigen::MatrixXd root = svd.matrixV() * inverse.cwiseMin(1e150).asDiagonal();
  answer.correlation = Eigen::MatrixXd::Identity(n, n);
  for (std::size_t i = 0; i < n; ++i) {
    const double length = root.row(i).norm();
    answer.standard_error.push_back(length * width[i]);
    for (std::size_t j = 0; j < i; ++j)
      answer.correlation(i, j) = answer.correlation(j, i) =
          (root.row(i) / length).dot(root.row(j) / root.row(j).norm());
  }
  return answer;
}

}  // namespace tabmelt::inference
