// What is believed after something was observed: weighted draws.
//
// Unknowns by their probability u = F(x) in the unit cube, z = Phi^-1(u) normal and independent
// before anything is observed. Draws of the prior get the weight of their likelihood; where few of
// them share all the weight, more are drawn from a normal distribution q_k fitted to those weights,
// and all draws so far count with
//
//   w_i ~ L(u_i) phi(z_i) / sum_k (n_k / n) q_k(z_i)        q_0 = phi, the prior
//
// (adaptive multiple importance sampling: J.-M. Cornuet, J.-M. Marin, A. Mira & C. P. Robert,
// Scand. J. Statist. 39 (2012) 798). A fit to too few weights would lie: they are flattened, w^b, b
// <= 1, until enough draws share them, and of mean, variance and correlation only what stands out
// of their scatter is kept.
//
//   effective number of draws    n_eff = (sum w)^2 / sum w^2          L. Kish, Survey Sampling
//   (1965)
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

namespace tabmelt::inference {

// ln L for each point of a batch; -infinity where something is impossible.
using LogLikelihood =
    std::function<std::vector<double>(const std::vector<std::vector<double>>& points)>;

struct Drawing {
  std::size_t draws = 200;  // in each round
  double enough = 100;      // effective draws
  int rounds = 5;           // at most, the first one included
  std::uint64_t seed = 1;
};

struct Posterior {
  std::vector<std::vector<double>> points;  // u; the first `draws` are those of the prior
  std::vector<double> weight;               // sum 1
  std::vector<double> log_likelihood;
  double effective = 0;
  double effective_at_first = 0;  // of the prior's draws alone
  int rounds = 0;
  double log_evidence = 0;  // ln of the mean likelihood under the prior
};

// Draws of no likelihood at all everywhere have equal weights. Throws std::invalid_argument for no
// dimensions or no draws.
Posterior posterior(const LogLikelihood&, std::size_t dimensions, const Drawing& = {});

double effective_number(const std::vector<double>& weight);
// The value below which this share of the weight lies.
double weighted_quantile(const std::vector<double>& values, const std::vector<double>& weight,
                         double share);
// `count` draws by their weights, as evenly as can be (systematic resampling); their numbers.
std::vector<std::size_t> resampled(const std::vector<double>& weight, std::size_t count);

// Mean and standard deviation of an unknown's z; 0 and 1 if nothing was learnt.
struct Moments {
  double mean = 0, deviation = 1;
};
Moments moments(const Posterior&, std::size_t unknown);

}  // namespace tabmelt::inference
