// Models with jumps of known size, averaged.
#include "solver/inference/averaged.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "solver/sampling/draws.h"

namespace tabmelt::inference {
namespace {

std::vector<std::vector<double>> around(std::size_t count, std::size_t unknowns,
                                        std::uint64_t seed = 1) {
  auto points = study::even_points(count, unknowns, seed);
  for (auto& point : points)
    for (double& x : point) x = 2 * x - 1;
  return points;
}

TEST(Averaged, a_parabola_is_found_exactly) {
  const auto points = around(points_wanted(2), 2);
  std::vector<std::vector<double>> residuals;
  for (const auto& x : points)
    residuals.push_back({1 + 2 * x[0] - x[1] + 0.3 * x[0] * x[1] + 0.5 * x[1] * x[1], 4 * x[1]});
  const Averaged a = averaged(points, residuals);
  EXPECT_NEAR(a.middle[0], 1, 1e-12);
  EXPECT_NEAR(a.middle[1], 0, 1e-12);
  EXPECT_NEAR(a.jacobian(0, 0), 2, 1e-12);
  EXPECT_NEAR(a.jacobian(0, 1), -1, 1e-12);
  EXPECT_NEAR(a.jacobian(1, 1), 4, 1e-12);
  EXPECT_LT(a.jumps.norm(), 1e-12);
  EXPECT_EQ(points_wanted(3), 20u);
}

// Without jumps the step and its covariance are those of ordinary least squares.
TEST(Averaged, without_jumps_it_is_least_squares) {
  Averaged a;
  a.middle = Eigen::Vector4d(1, 2, 0, 1);
  a.jumps = Eigen::MatrixXd::Zero(4, 3);
  Eigen::MatrixXd J(4, 2);
  J << 1, 0, 1, 1e6, 1, 2e6, 1, 3e6;
  const AveragedStep s = averaged_step(a, J, {1e9, 1e9});
  const Eigen::MatrixXd A = (J.transpose() * J).inverse();
  EXPECT_NEAR((s.step + A * J.transpose() * a.middle).norm(), 0, 1e-9);
  EXPECT_NEAR(s.covariance(0, 0), A(0, 0), 1e-9);
  EXPECT_NEAR(s.covariance(1, 1) / A(1, 1), 1, 1e-9);
  EXPECT_EQ(s.weight, Eigen::VectorXd::Ones(4));
}

// One unknown of slope 10, 100 values of noise one; all of them jump together by 0.5: however many
// values there are, the unknown is not known better than that. 300 times over, the stated error
// against the scatter.
TEST(Averaged, jumps_that_values_share_do_not_average_out) {
  constexpr int times = 300;
  constexpr double jump = 0.5;
  std::mt19937_64 engine(1);
  std::normal_distribution<double> bell(0, 1);
  double square = 0, stated = 0;
  for (int n = 0; n < times; ++n) {
    const auto points = around(points_wanted(1) * 3, 1, 7);
    std::vector<double> record;
    const double own = jump * bell(engine);  // the record is one of the model's too
    for (int k = 0; k < 100; ++k) record.push_back(own + bell(engine));
    std::vector<std::vector<double>> residuals;
    for (const auto& x : points) {
      const double shared = jump * bell(engine);
      residuals.emplace_back();
      for (const double y : record) residuals.back().push_back(10 * x[0] + shared - y);
    }
    const Averaged a = averaged(points, residuals);
    const AveragedStep s = averaged_step(a, a.jacobian, {1e9});
    square += s.step[0] * s.step[0] / times;
    stated += s.covariance(0, 0) / times;
  }
  // The middle of a parabola through 18 even points keeps 9/(4 n) of their scatter.
  const double expected = (jump * jump * (1 + 2.25 / 18) + 0.01) / 100;
  EXPECT_NEAR(square, expected, 0.25 * expected);
  EXPECT_NEAR(stated, square, 0.2 * square);
}

}  // namespace
}  // namespace tabmelt::inference
