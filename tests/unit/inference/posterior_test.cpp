// Posteriors in closed form, and whether what is claimed covers the truth as often as it says.
#include "solver/inference/posterior.h"

#include <gtest/gtest.h>

#include <array>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <cstdio>
#include <limits>
#include <random>
#include <stdexcept>

#include "solver/inference/outcomes.h"
#include "solver/sampling/distribution.h"

namespace tabmelt::inference {
namespace {

using Points = std::vector<std::vector<double>>;

double normal_score(double u) {
  return boost::math::quantile(boost::math::normal_distribution<>(), u);
}

double mean_of(const Posterior& p, const std::function<double(const std::vector<double>&)>& f) {
  double sum = 0;
  for (std::size_t i = 0; i < p.points.size(); ++i) sum += p.weight[i] * f(p.points[i]);
  return sum;
}

// Uniform prior, k of n: Beta(k + 1, n - k + 1), the textbook conjugate pair.
TEST(Posterior, of_a_share_is_the_beta_distribution) {
  for (const auto& [k, n] : {std::pair(3, 10), std::pair(60, 80), std::pair(0, 12)}) {
    const LogLikelihood coin = [k = k, n = n](const Points& points) {
      std::vector<double> list;
      for (const auto& u : points)
        list.push_back(k * std::log(u[0]) + (n - k) * std::log(1 - u[0]));
      return list;
    };
    const Posterior p = posterior(coin, 1, {.draws = 400, .enough = 200});
    const double a = k + 1, b = n - k + 1, mean = a / (a + b);
    const double deviation = std::sqrt(a * b / ((a + b) * (a + b) * (a + b + 1)));
    const double found = mean_of(p, [](const auto& u) { return u[0]; });
    const double square =
        mean_of(p, [&](const auto& u) { return (u[0] - found) * (u[0] - found); });
    EXPECT_NEAR(found, mean, 0.05 * deviation) << k << " of " << n;
    EXPECT_NEAR(std::sqrt(square), deviation, 0.05 * deviation) << k << " of " << n;
    EXPECT_NEAR(p.log_evidence, std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b), 0.02);
  }
}

// y = z_1 + noise of deviation s: mean y/(1 + s^2), variance s^2/(1 + s^2); the other unknowns stay
// as they were. Sharp enough that the prior's draws alone would not do.
TEST(Posterior, of_a_normal_unknown_is_refined_where_it_is_sharp) {
  const double y = 2.2, s = 0.02;
  const LogLikelihood measured = [&](const Points& points) {
    std::vector<double> list;
    for (const auto& u : points) list.push_back(-0.5 * std::pow((normal_score(u[0]) - y) / s, 2));
    return list;
  };
  const Posterior p = posterior(measured, 8, {.draws = 300, .enough = 150, .rounds = 6});
  EXPECT_LT(p.effective_at_first, 20);
  EXPECT_GE(p.effective, 150);
  const Moments first = moments(p, 0);
  const double deviation = s / std::sqrt(1 + s * s);
  EXPECT_NEAR(first.mean, y / (1 + s * s), 0.25 * deviation);
  EXPECT_NEAR(first.deviation, deviation, 0.2 * deviation);
  for (std::size_t i = 1; i < 8; ++i) {
    EXPECT_NEAR(moments(p, i).mean, 0, 0.3) << i;
    EXPECT_NEAR(moments(p, i).deviation, 1, 0.25) << i;
  }
  const double evidence = -0.5 * y * y / (1 + s * s) + std::log(deviation);
  EXPECT_NEAR(p.log_evidence, evidence, 0.2);
}

// Only the sum of two is measured: their correlation is -1/(1 + s^2).
TEST(Posterior, keeps_what_is_known_of_two_together) {
  const double s = 0.1;
  const LogLikelihood sum = [&](const Points& points) {
    std::vector<double> list;
    for (const auto& u : points)
      list.push_back(
          -0.5 * std::pow((normal_score(u[0]) + normal_score(u[1]) - 1) / (s * std::sqrt(2.0)), 2));
    return list;
  };
  const Posterior p = posterior(sum, 2, {.draws = 400, .enough = 300});
  const double a = moments(p, 0).mean, b = moments(p, 1).mean;
  const double product = mean_of(
      p, [&](const auto& u) { return (normal_score(u[0]) - a) * (normal_score(u[1]) - b); });
  EXPECT_NEAR(a, 0.5 / (1 + s * s), 0.05);
  EXPECT_NEAR(product / (moments(p, 0).deviation * moments(p, 1).deviation), -1 / (1 + s * s),
              0.02);
}

TEST(Posterior, without_anything_seen_is_the_prior) {
  const LogLikelihood nothing = [](const Points& points) {
    return std::vector<double>(points.size(), 0);
  };
  const Posterior p = posterior(nothing, 3);
  EXPECT_EQ(p.rounds, 1);
  EXPECT_NEAR(p.effective, 200, 1e-9);
  const LogLikelihood impossible = [](const Points& points) {
    return std::vector<double>(points.size(), -std::numeric_limits<double>::infinity());
  };
  const Posterior none = posterior(impossible, 3, {.draws = 50});
  EXPECT_NEAR(none.weight[7], 1.0 / static_cast<double>(none.points.size()), 1e-12);
  EXPECT_THROW(posterior(nothing, 0), std::invalid_argument);
}

TEST(Weights, quantiles_and_resampling_follow_them) {
  const std::vector<double> values{3, 1, 2}, weight{0.2, 0.5, 0.3};
  EXPECT_EQ(weighted_quantile(values, weight, 0.4), 1);
  EXPECT_EQ(weighted_quantile(values, weight, 0.6), 2);
  EXPECT_EQ(weighted_quantile(values, weight, 0.9), 3);
  EXPECT_NEAR(effective_number(weight), 1 / 0.38, 1e-12);
  EXPECT_EQ(resampled(weight, 10), (std::vector<std::size_t>{0, 0, 1, 1, 1, 1, 1, 2, 2, 2}));
}

// A cheap stand-in for the program: two unknowns of four decide whether a weld at a setting holds,
// gives a button, sparks. Margins are smooth in the unknowns and in the setting.
study::Judged stand_in(const std::vector<double>& u, double setting) {
  const double a = normal_score(u[0]), b = normal_score(u[1]);
  const double heat = 0.25 * setting + 0.12 * a - 0.03 * b;
  study::Judged run;
  run.state = study::State::computed;
  run.limits = {{"no_bond", false, heat + 0.1},
                {"small_nugget", false, heat},
                {"surface_sparking", false, 0.6 - 0.6 * setting - 0.5 * b},
                {"electrode_sticking", false, 0.5 - heat},
                {"strip_burn_through", false, 0.6 - heat}};
  return run;
}

// Simulation-based calibration: truths drawn from the prior, notes from the truths; the rank of the
// truth among the posterior's draws is then uniform (S. Talts et al., arXiv:1804.06788; from
// memory). 200 truths, four unknowns, two of which only the prior knows.
TEST(Posterior, covers_the_truth_as_often_as_it_claims) {
  constexpr int truths = 200;
  constexpr std::size_t unknowns = 4;
  const std::vector<double> settings{-1, -0.5, 0, 0.5, 1, 1.5};
  const NoteModel model;
  std::mt19937_64 engine(11);
  std::uniform_real_distribution<double> uniform(0, 1);
  std::array<int, unknowns> within_half{}, within_ninety{};
  std::array<std::array<int, 10>, unknowns> bins{};
  for (int truth = 0; truth < truths; ++truth) {
    std::vector<double> u(unknowns);
    for (double& one : u) one = std::min(std::max(uniform(engine), 1e-9), 1 - 1e-9);
    std::vector<Noted> noted(settings.size());
    for (std::size_t w = 0; w < settings.size(); ++w) {
      const Foretold f = foretold(stand_in(u, settings[w]), {}, model);
      for (std::size_t n = 0; n < notes; ++n)
        if (uniform(engine) < 0.8) noted[w].yes[n] = uniform(engine) < f.yes[n];
    }
    const LogLikelihood likelihood = [&](const Points& points) {
      std::vector<double> list;
      for (const auto& point : points) {
        double sum = 0;
        for (std::size_t w = 0; w < settings.size(); ++w)
          sum += log_likelihood(noted[w], foretold(stand_in(point, settings[w]), {}, model), model);
        list.push_back(sum);
      }
      return list;
    };
    Drawing drawing{.draws = 300, .enough = 150};
    drawing.seed = 1000 + static_cast<std::uint64_t>(truth);
    const Posterior p = posterior(likelihood, unknowns, drawing);
    for (std::size_t i = 0; i < unknowns; ++i) {
      const double rank = mean_of(p, [&](const auto& draw) { return draw[i] < u[i] ? 1 : 0; });
      ++bins[i][static_cast<std::size_t>(std::min(9.0, 10 * rank))];
      within_half[i] += std::abs(rank - 0.5) < 0.25 ? 1 : 0;
      within_ninety[i] += std::abs(rank - 0.5) < 0.45 ? 1 : 0;
    }
  }
  for (std::size_t i = 0; i < unknowns; ++i) {
    double chi_square = 0;
    for (const int count : bins[i])
      chi_square += std::pow(count - truths / 10.0, 2) / (truths / 10.0);
    const double chance = boost::math::cdf(
        boost::math::complement(boost::math::chi_squared_distribution<>(9), chi_square));
    std::printf(
        "unknown %zu: truth in the 50 %% interval %d, in the 90 %% interval %d of %d; ranks "
        "uniform with chance %.2f\n",
        i, within_half[i], within_ninety[i], truths, chance);
    // Three standard deviations of a count of 200: 21 and 13.
    EXPECT_NEAR(within_half[i], 100, 21) << i;
    EXPECT_NEAR(within_ninety[i], 180, 13) << i;
    EXPECT_GT(chance, 1e-3) << i;
  }
}

}  // namespace
}  // namespace tabmelt::inference
