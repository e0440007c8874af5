// Functions whose indices are known in closed form.
#include "solver/sampling/sensitivity.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/sampling/draws.h"

namespace tabmelt::study {
namespace {

using Points = std::vector<std::vector<double>>;

template <typename F>
std::vector<double> values_of(const Points& points, F f) {
  std::vector<double> values;
  for (const auto& point : points) values.push_back(f(point));
  return values;
}

// T. Ishigami & T. Homma, ISUMA'90: sin x1 + 7 sin^2 x2 + 0.1 x3^4 sin x1 on (-pi, pi). Variance
// a^2/8 + b pi^4/5 + b^2 pi^8/18 + 1/2; S1 = (1 + b pi^4/5)^2/2 / V = 0.314, S2 = a^2/8 / V =
// 0.442, S3 = 0.
double ishigami(const std::vector<double>& u) {
  const auto x = [&](std::size_t i) { return std::numbers::pi * (2 * u[i] - 1); };
  return std::sin(x(0)) + 7 * std::pow(std::sin(x(1)), 2) +
         0.1 * std::pow(x(2), 4) * std::sin(x(0));
}

TEST(Sensitivity, ishigami_function) {
  const Points points = even_points(1024, 3);
  const Sensitivity s = sensitivity(points, values_of(points, ishigami));
  const double pi4 = std::pow(std::numbers::pi, 4);
  const double variance = 49.0 / 8 + 0.1 * pi4 / 5 + 0.01 * pi4 * pi4 / 18 + 0.5;
  const double s1 = 0.5 * std::pow(1 + 0.1 * pi4 / 5, 2) / variance, s2 = 49.0 / 8 / variance;
  EXPECT_NEAR(s.variance, variance, 0.03 * variance);
  EXPECT_NEAR(s.first_order[0].value, s1, 0.02);
  EXPECT_NEAR(s.first_order[1].value, s2, 0.02);
  EXPECT_NEAR(s.first_order[2].value, 0, 0.02);
  EXPECT_NEAR(s.together, 1 - s1 - s2, 0.04);
}

// The stated uncertainty is the error that 200 runs make, neither much less nor much more.
TEST(Sensitivity, two_hundred_runs_err_as_much_as_they_say) {
  const double pi4 = std::pow(std::numbers::pi, 4);
  const double variance = 49.0 / 8 + 0.1 * pi4 / 5 + 0.01 * pi4 * pi4 / 18 + 0.5;
  const double exact[] = {0.5 * std::pow(1 + 0.1 * pi4 / 5, 2) / variance, 49.0 / 8 / variance, 0};
  double squares = 0, said = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const Points points = even_points(200, 3, seed);
    const Sensitivity s = sensitivity(points, values_of(points, ishigami));
    for (std::size_t i = 0; i < 3; ++i) {
      squares += std::pow(s.first_order[i].value - exact[i], 2);
      said += std::pow(s.first_order[i].deviation, 2);
    }
  }
  EXPECT_LT(squares, 2 * said);
  EXPECT_GT(squares, 0.1 * said);
  EXPECT_LT(std::sqrt(said / 60), 0.1);
}

// I. M. Sobol' (1993): prod (|4 u_i - 2| + a_i)/(1 + a_i), V_i = 1/3/(1 + a_i)^2, V = prod(1 + V_i)
// - 1, S_i = V_i / V.
TEST(Sensitivity, g_function_of_sobol) {
  const std::vector<double> a{0, 1, 4.5, 9, 99, 99, 99, 99};
  const Points points = even_points(1024, a.size());
  const auto g = [&](const std::vector<double>& u) {
    double product = 1;
    for (std::size_t i = 0; i < a.size(); ++i)
      product *= (std::abs(4 * u[i] - 2) + a[i]) / (1 + a[i]);
    return product;
  };
  const Sensitivity s = sensitivity(points, values_of(points, g));
  double variance = 1;
  for (const double one : a) variance *= 1 + 1 / (3 * (1 + one) * (1 + one));
  variance -= 1;
  for (std::size_t i = 0; i < a.size(); ++i)
    EXPECT_NEAR(s.first_order[i].value, 1 / (3 * std::pow(1 + a[i], 2)) / variance, 0.03) << i;
}

TEST(Sensitivity, twenty_five_inputs_and_two_hundred_runs_find_the_two_that_count) {
  const Points points = even_points(200, 25);
  const Sensitivity s = sensitivity(points, values_of(points, [](const auto& u) {
                                      return 2 * u[3] - u[17];  // shares 4/5 and 1/5
                                    }));
  EXPECT_NEAR(s.first_order[3].value, 0.8, 0.03);
  EXPECT_NEAR(s.first_order[17].value, 0.2, 0.03);
  EXPECT_NEAR(s.first_order[5].value, 0, 0.01);
  EXPECT_GT(s.first_order[3].slope, 0.8);
  EXPECT_LT(s.first_order[17].slope, -0.3);
}

TEST(Sensitivity, of_what_never_changes_is_nothing) {
  const Points points = even_points(100, 3);
  const Sensitivity s = sensitivity(points, std::vector<double>(100, 1.0));
  EXPECT_EQ(s.variance, 0);
  EXPECT_EQ(s.first_order[0].value, 0);
  EXPECT_EQ(s.together, 0);
  const Points few = even_points(5, 3);
  EXPECT_EQ(sensitivity(few, {1, 2, 3, 4, 5}).first_order[0].value, 0);
  EXPECT_THROW(sensitivity(few, {1.0}), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::study
