// A model that jumps a little from one point to the next, averaged over many points around one.
//
// A computation whose steps or contacts settle differently has jumps that no finite difference
// survives. Its residuals at points x_j around x are fitted by a parabola in x - x_j,
//
//   r_jk ~ a_k + J_k (x_j - x) + (x_j - x)^T Q_k (x_j - x),   e_jk: what is left
//
// a and J are those of the averaged model, and each e_j is one sample of its jumps, correlated over
// the residuals as they are. With W = 1 / (1 + mean e^2) for noise of size one the weighted step
// and its covariance are
//
//   d = -A J^T W a,  A = (J^T W J)^-1
//   C = A J^T W W J A + (1 + h) mean_j v_j v_j^T,   v_j = A J^T W e_j
//
// h: share of the jumps that is left in a. Parabola by least squares (response surface: G. E. P.
// Box & K. B. Wilson, J. R. Statist. Soc. B 13 (1951) 1); C is the usual one of weights that are
// not the inverse of the covariance.
#pragma once

#include <Eigen/Dense>
#include <cstddef>
#include <vector>

namespace tabmelt::inference {

struct Averaged {
  Eigen::VectorXd middle;    // a
  Eigen::MatrixXd jacobian;  // J, to the unknowns of the points
  Eigen::MatrixXd jumps;     // e, one column for each point, of full size
  double left = 0;           // h
};

// How many points a parabola in so many unknowns wants: twice its coefficients.
std::size_t points_wanted(std::size_t unknowns);

// `offsets`: x_j - x, in any scale that makes them of order one; J is to the same scale.
// `residuals`: points x residuals.
Averaged averaged(const std::vector<std::vector<double>>& offsets,
                  const std::vector<std::vector<double>>& residuals);

struct AveragedStep {
  Eigen::VectorXd step;        // d
  Eigen::MatrixXd covariance;  // C
  Eigen::VectorXd weight;      // W of each residual
};
// J may have further columns than the averaged ones, of unknowns that did not vary among the
// points. Each unknown is held where it is, as if that had been measured within its width: what the
// residuals do not tell stays.
AveragedStep averaged_step(const Averaged&, const Eigen::MatrixXd& jacobian,
                           const std::vector<double>& width);

}  // namespace tabmelt::inference
