#include "solver/sampling/chance.h"

#include <boost/math/distributions/binomial.hpp>
#include <stdexcept>

namespace tabmelt::study {

Chance chance_of(std::size_t count, std::size_t trials, std::size_t undecided, double confidence) {
  if (count + undecided > trials) throw std::invalid_argument("chance_of(): more than there are");
  Chance chance;
  chance.count = count;
  chance.trials = trials;
  if (trials == 0) return chance;
  const std::size_t decided = trials - undecided;
  if (decided > 0) chance.value = static_cast<double>(count) / static_cast<double>(decided);
  using Binomial = boost::math::binomial_distribution<>;
  const double side = (1 - confidence) / 2, all = static_cast<double>(trials);
  chance.low = Binomial::find_lower_bound_on_p(all, static_cast<double>(count), side);
  const std::size_t most = count + undecided;
  chance.high =
      most == trials ? 1 : Binomial::find_upper_bound_on_p(all, static_cast<double>(most), side);
  return chance;
}

}  // namespace tabmelt::study
