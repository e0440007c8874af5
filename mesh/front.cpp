#include "mesh/front.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tabmelt::mesh {
namespace {

// The straight line through (s1, v1) and (s2, v2).
struct Line {
  double s1, v1, slope;
  double at(double s) const { return v1 + slope * (s - s1); }
  double root() const { return s1 - v1 / slope; }
};

}  // namespace

PositiveRings positive_rings(const AxisymmetricGrid& grid, const std::vector<double>& v,
                             double limit) {
  PositiveRings found;
  if (v.empty() || limit <= 0) return found;
  const double end = limit * limit;
  double inside = 0, first = -1, last = 0;  // in r^2
  const auto add = [&](double from, double to) {
    if (to <= from) return;
    inside += to - from;
    if (first < 0) first = from;
    last = to;
  };
  const auto square = [&](std::size_t i) { return grid.r_centre(i) * grid.r_centre(i); };
  const std::size_t lines = std::max<std::size_t>(v.size() - 1, 1);
  for (std::size_t i = 0; i < lines; ++i) {
    const bool alone = v.size() == 1;
    const Line line{square(i), v[i], alone ? 0 : (v[i + 1] - v[i]) / (square(i + 1) - square(i))};
    const double from = i == 0 ? 0 : square(i);
    const double to = std::min(end, i + 1 == lines ? end : square(i + 1));
    if (from >= to) break;
    const bool low = line.at(from) > 0, high = line.at(to) > 0;
    if (low && high) add(from, to);
    if (low && !high) add(from, std::clamp(line.root(), from, to));
    if (!low && high) add(std::clamp(line.root(), from, to), to);
  }
  found.area = std::numbers::pi * inside;
  found.hole = std::sqrt(std::max(first, 0.0));
  found.outer = std::sqrt(last);
  return found;
}

}  // namespace tabmelt::mesh
