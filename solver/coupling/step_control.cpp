#include "solver/coupling/step_control.h"

#include <algorithm>
#include <cmath>

namespace tabmelt {

double StepControl::error_factor(double w) {
  if (w <= 0) return 1;
  constexpr double solved = 0.0404;
  const double predicted = 1.0 / 6 + 1.0 / (4 * w);
  return solved / (predicted - solved);
}

bool StepControl::acceptable(double error, double dt) const {
  return error <= tolerance || dt <= shortest;
}

double StepControl::next(double error, double dt, bool history) const {
  const double power = history ? 1.0 / 3 : 1.0 / 2;
  const double wanted = 0.85 * std::pow(tolerance / std::max(error, 1e-12), power);
  return std::min(longest, dt * std::clamp(wanted, 0.2, 2.0));
}

}  // namespace tabmelt
