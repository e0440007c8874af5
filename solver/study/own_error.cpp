#include "solver/study/own_error.h"

#include <cmath>

#include "solver/solve.h"
#include "solver/study/refinement.h"

namespace tabmelt {
namespace {

constexpr double halved = 0.5;             // [1] of the case's resolution
constexpr double share = 1.5 / (4.0 - 1);  // [1] S / (2^p - 1)

}  // namespace

std::vector<FigureError> own_errors(const Problem& problem, const Result& result,
                                    Observer* observer) {
  const std::vector<Figure> own = judged_figures(problem, result);
  const Problem coarse = refined(problem, halved);
  const Result second = solve(coarse, observer);
  if (second.ending != Ending::finished) return {};
  const std::vector<Figure> other = judged_figures(coarse, second);
  std::vector<FigureError> errors;
  for (std::size_t n = 0; n < own.size(); ++n) {
    const Figure& f = own[n];
    if (f.value == f.origin) continue;
    errors.push_back(
        {f.name, f.unit, f.value, f.origin, share * std::abs(other[n].value - f.value)});
  }
  return errors;
}

}  // namespace tabmelt
