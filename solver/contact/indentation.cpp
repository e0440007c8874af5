#include "solver/contact/indentation.h"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <limits>

#include "solver/material/constants.h"

namespace tabmelt {
namespace {

constexpr double poisson = 0.3;

// Of a layer with depth d under a face of radius b, over a half-space's.
double squeeze_factor(double b, double d) {
  return std::max(1.0, (1 + 2 * b / (3 * std::sqrt(3.0) * d)) / 3);
}

// Force [N] a row bears over the disc of this radius: its hardness is even within a column.
double load_within(const std::vector<double>& load, const std::vector<double>& r, double radius) {
  // The row ends at the face's edge, most often before the grid does.
  const auto end = r.begin() + static_cast<std::ptrdiff_t>(load.size()) - 1;
  const auto n = static_cast<std::size_t>(std::upper_bound(r.begin() + 1, end, radius) - r.begin());
  const double inner = r[n - 1] * r[n - 1], outer = r[n] * r[n];
  return load[n - 1] + (load[n] - load[n - 1]) * (radius * radius - inner) / (outer - inner);
}

}  // namespace

double least_pressure(const std::vector<YieldingSide>& sides, const std::vector<double>& r_edges,
                      double b) {
  const double area = constants::pi * b * b;
  double least = std::numeric_limits<double>::infinity();
  for (const YieldingSide& side : sides) {
    double above = 0, borne = 0;  // depth so far, integral of hardness over it
    for (std::size_t row = 0; row < side.depth.size() && above < b; ++row) {
      const double depth = std::min(side.depth[row], b);
      borne += (depth - above) * load_within(side.load[row], r_edges, b) / area;
      above = depth;
      least = std::min(least, borne / depth * squeeze_factor(b, depth));
    }
  }
  return least;
}

double yielding_radius(const std::vector<YieldingSide>& sides, const std::vector<double>& r_edges,
                       double force, double largest) {
  if (force <= 0) return 0;
  // Over the area the force is nearly a straight line.
  const auto missing = [&](double square) {
    return constants::pi * square * least_pressure(sides, r_edges, std::sqrt(square)) - force;
  };
  const double most = largest * largest, at_most = missing(most);
  if (at_most <= 0) return largest;
  std::uintmax_t evaluations = 50;
  const auto [low, high] = boost::math::tools::toms748_solve(
      missing, 0.0, most, -force, at_most,
      [most](double a, double b) { return b - a <= 2e-7 * most; }, evaluations);
  return std::sqrt(0.5 * (low + high));
}

double hertz_radius(double force, double face_radius, double modulus_1, double modulus_2) {
  double compliance = 0;
  for (const double modulus : {modulus_1, modulus_2})
    if (modulus > 0) compliance += (1 - poisson * poisson) / modulus;
  return std::cbrt(0.75 * force * face_radius * compliance);
}

double indentation_radius(double force, double hardness) {
  return std::sqrt(force / (constants::pi * hardness));
}

}  // namespace tabmelt
