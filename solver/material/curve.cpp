#include "solver/material/curve.h"

#include <algorithm>

namespace tabmelt {

double Curve::at(double T) const {
  if (T <= temperature.front()) return value.front();
  if (T >= temperature.back()) return value.back();
  const auto above = std::upper_bound(temperature.begin(), temperature.end(), T);
  const auto n = static_cast<std::size_t>(above - temperature.begin());
  const double s = (T - temperature[n - 1]) / (temperature[n] - temperature[n - 1]);
  return value[n - 1] + s * (value[n] - value[n - 1]);
}

}  // namespace tabmelt
