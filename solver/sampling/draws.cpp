#include "solver/sampling/draws.h"

#include <boost/random/sobol.hpp>
#include <cmath>
#include <random>
#include <stdexcept>

namespace tabmelt::study {

std::vector<std::vector<double>> even_points(std::size_t count, std::size_t dimensions,
                                             std::uint64_t seed) {
  if (dimensions == 0 || dimensions > 3667)
    throw std::invalid_argument("even_points(): 1 to 3667 dimensions");
  using Sequence = boost::random::sobol;
  Sequence sequence(dimensions);
  // The engine's numbers are fixed by the C++ standard, so the points are the same everywhere.
  std::mt19937_64 shifts(seed);
  std::vector<std::uint64_t> shift(dimensions);
  for (std::uint64_t& s : shift) s = shifts();
  // Half a step keeps a coordinate off both ends.
  constexpr int bits = 53;
  std::vector<std::vector<double>> points(count, std::vector<double>(dimensions));
  for (auto& point : points)
    for (std::size_t d = 0; d < dimensions; ++d) {
      const std::uint64_t number = static_cast<std::uint64_t>(sequence()) ^ shift[d];
      point[d] = std::ldexp(static_cast<double>(number >> (64 - bits)) + 0.5, -bits);
    }
  return points;
}

}  // namespace tabmelt::study
