// Which inputs decide: first-order sensitivity indices from a sample that is there already.
//
//   S_i = Var(E(y | x_i)) / Var(y)                                   [1]
//
// share of the variance of y that would vanish if x_i were known. E(y | x_i) is expanded in
// cosines of the input's probability u_i = F(x_i),
//
//   y ~ c_0 + sum_i sum_{k=1..K} c_ik sqrt(2) cos(pi k u_i),   S_i = (sum_k c_ik^2 - noise) /
//   Var(y)
//
// all inputs fitted together by least squares, so that the part of one input is not the noise of
// another. The noise sum_k s^2 [(A^T A)^-1]_kk is what the squares of the coefficients contain if
// the input does nothing (s^2: variance of the residual). The cosines are those of E. Plischke, "An
// effective algorithm for computing global sensitivity indices (EASI)", Reliab. Eng. Syst. Saf. 95
// (2010) 354, that fits one input at a time; the indices are those of I. M. Sobol', Math. Model.
// Comput. Exp. 1 (1993) 407. Uncertainty: standard deviation over 100 resampled samples (bootstrap)
// with a fixed seed.
//
// With n runs and d inputs K = n / (4 d), between 1 and 8: at 200 runs and 25 inputs 2, so that a
// sharply bent dependence on one input is then counted among what they do together.
#pragma once

#include <cstdint>
#include <vector>

namespace tabmelt::study {

struct Index {
  double value = 0;      // [1] may be slightly negative for an input that does nothing
  double deviation = 0;  // [1] standard
  double slope = 0;      // [1] of the rank correlation with y: +1 rises always, -1 falls
};

struct Sensitivity {
  std::vector<Index> first_order;
  double together = 0;  // [1] what no single input explains
  double variance = 0;  // of y
};

// Ranks from 0; equal values share the mean of theirs. Indices of the ranks of y instead of y are
// not upset by a long tail or by a quantity that lies at one value in most runs (A. Saltelli & I.
// M. Sobol', Reliab. Eng. Syst. Saf. 50 (1995) 225, who warn that they overstate what inputs do
// alone).
std::vector<double> ranks(const std::vector<double>& values);

// points: u of every input for each run, in (0, 1). With no variance, or too few runs for K = 1,
// all indices are 0. Throws std::invalid_argument unless there is a value for each point.
Sensitivity sensitivity(const std::vector<std::vector<double>>& points,
                        const std::vector<double>& values, std::uint64_t seed = 1);

}  // namespace tabmelt::study
