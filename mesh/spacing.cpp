#include "mesh/spacing.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tabmelt::mesh {
namespace {

double wanted_size(const Spacing& spacing, double x) {
  double size = spacing.largest;
  for (const Feature& f : spacing.features)
    size = std::min(size, f.size + spacing.growth * std::abs(x - f.position));
  return size;
}

}  // namespace

std::vector<double> graded_edges(const Spacing& spacing) {
  if (spacing.fixed.size() < 2 || spacing.features.empty())
    throw std::invalid_argument("graded_edges: needs two fixed edges and a feature");
  std::vector<double> edges{spacing.fixed.front()};
  // Fine enough that the trapezoidal integral of 1/s is smooth compared with one cell.
  constexpr int samples = 2000;
  std::vector<double> index(samples + 1);
  for (std::size_t k = 1; k < spacing.fixed.size(); ++k) {
    const double a = spacing.fixed[k - 1], b = spacing.fixed[k];
    if (!(b > a)) throw std::invalid_argument("graded_edges: fixed edges must increase");
    const double h = (b - a) / samples;
    index[0] = 0;
    for (int m = 1; m <= samples; ++m)
      index[static_cast<std::size_t>(m)] =
          index[static_cast<std::size_t>(m) - 1] + h / wanted_size(spacing, a + (m - 0.5) * h);
    // Rounded at resolution 1 first: finer grids are then exact subdivisions of the same map.
    const double base = std::max(1.0, std::round(index.back()));
    const auto cells = static_cast<int>(std::max(1.0, std::round(base * spacing.resolution)));
    std::size_t m = 0;
    for (int c = 1; c < cells; ++c) {
      const double target = index.back() * c / cells;
      while (index[m + 1] < target) ++m;
      const double s = (target - index[m]) / (index[m + 1] - index[m]);
      edges.push_back(a + (static_cast<double>(m) + s) * h);
    }
    edges.push_back(b);
  }
  return edges;
}

}  // namespace tabmelt::mesh
