// The materials of cases/materials, and integrals over their curves.
#pragma once

#include <algorithm>
#include <string>

#include "solver/problem/problem.h"

namespace tabmelt::agreement {

inline constexpr double room = 293.15;  // [K]

MaterialPtr shipped(const std::string& name);

// Midpoint rule, a tenth of a kelvin: round-off apart exact for the straight lines of the curves.
template <typename Integrand>
double integral(double from, double to, Integrand f) {
  const int pieces = std::max(1, static_cast<int>(10 * (to - from)));
  const double dT = (to - from) / pieces;
  double sum = 0;
  for (int n = 0; n < pieces; ++n) sum += f(from + (n + 0.5) * dT) * dT;
  return sum;
}

// int dH/rho from room temperature to T [A^2 s/m^4]: the action J^2 t that brings an insulated wire
// of it there.
double action(const Material& metal, double T);

}  // namespace tabmelt::agreement
