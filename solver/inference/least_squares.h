// Weighted least squares within bounds, and what it says about its unknowns.
//
//   minimise  1/2 sum_k r_k(x)^2   over   low <= x <= high
//
//   r  residual over its standard deviation [1]      J = dr/dx
//   covariance  C = (J^T J)^-1                          standard error of x_i: sqrt(C_ii)
//   correlation of two unknowns  C_ij / sqrt(C_ii C_jj)
//
// Levenberg and Marquardt's method in a trust region, by Ceres. A search without slopes (Powell's
// BOBYQA, tests/practice/searches_main.cpp) takes a third of the runs on recorded welds but stops
// ten times further from the truth, 4 % instead of 0.4 %: small jumps of the model bend its
// parabola, while differences over 2 % hardly see them. On a model without jumps both end at the
// same point.
//
// With each column of J scaled to the width that is possible for its unknown, J = U S V^T:
// directions V_k in which S_k is so small that the data leave the unknown anywhere within that
// width (S_k < 1) cannot be told.
#pragma once

#include <Eigen/Dense>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace tabmelt::inference {

struct Unknown {
  std::string name;
  double start = 0;          // any unit
  double low = 0, high = 0;  // bounds, the same unit
  double scale = 1;          // of the same unit: what counts as a change of it
};

struct Linearised {
  std::vector<double> residuals;
  Eigen::MatrixXd jacobian;  // residuals x unknowns; empty if not asked for
};

// Nothing where the model cannot be computed.
using Model = std::function<std::optional<Linearised>(const std::vector<double>& x, bool jacobian)>;

struct LeastSquares {
  bool converged = false;
  std::string message;  // why it ended, in words
  std::vector<double> best;
  std::vector<double> residuals;
  Eigen::MatrixXd jacobian;
  int iterations = 0;
};

// Throws std::invalid_argument if a start lies outside its bounds, the model cannot be computed
// there, or there are fewer residuals than unknowns.
LeastSquares least_squares(const Model&, const std::vector<Unknown>&, int most_iterations = 50);

struct Uncertainty {
  std::vector<double> standard_error;  // infinite where the data say nothing
  Eigen::MatrixXd correlation;
  // Groups of unknowns that cannot be told apart, or one by itself that leaves no trace: their
  // numbers, the one that matters most first.
  std::vector<std::vector<std::size_t>> cannot_tell;
};

// `width`: how far each unknown may be off in all, the same unit.
Uncertainty uncertainty(const Eigen::MatrixXd& jacobian, const std::vector<double>& width);

}  // namespace tabmelt::inference
