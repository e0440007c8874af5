// Does the model match? Two tests of residuals r that should be independent and standard normal.
//
//   size     chi^2 = sum r^2 over its degrees of freedom, upper tail of the F distribution, whose
//            second degrees of freedom are those of the noise that r was divided by
//   order    number R of runs of one sign among n+ positive and n- negative ones:
//            mean 1 + 2 n+ n-/n,  variance (mean - 1)(mean - 2)/(n - 1), too few: lower tail
//
// A. Wald & J. Wolfowitz, Ann. Math. Statist. 11 (1940) 147 (runs). Distributions: Boost.Math.
#pragma once

#include <cstddef>
#include <vector>

namespace tabmelt::inference {

struct Goodness {
  double chi_square = 0;  // [1] per degree of freedom
  double by_size = 1;     // [1] chance of residuals as large as these if the model is right
  double by_order = 1;    // [1] chance of so few changes of sign
};

// `unknowns` were fitted to these residuals and take their degrees of freedom. `noise_freedom`: as
// many independent values would tell the noise as well as it is known.
Goodness goodness(const std::vector<double>& residuals, std::size_t unknowns, double noise_freedom);

// Below this chance a model does not match [1].
inline constexpr double least_chance = 1e-3;
inline bool matches(const Goodness& g) {
  return g.by_size >= least_chance && g.by_order >= least_chance;
}

}  // namespace tabmelt::inference
