// Columns of a grid by their radius.
#pragma once

#include <algorithm>
#include <stdexcept>

#include "mesh/axisymmetric_grid.h"

namespace tabmelt::test {

// Index of the edge at this radius, within 1e-9 of the rim; throws std::out_of_range.
inline std::size_t column_edge(const mesh::AxisymmetricGrid& grid, double r) {
  const auto& edges = grid.r_edges();
  const double tolerance = 1e-9 * edges.back();
  const auto near = std::lower_bound(edges.begin(), edges.end(), r - tolerance);
  if (near == edges.end() || *near > r + tolerance)
    throw std::out_of_range("no edge at this radius");
  return static_cast<std::size_t>(near - edges.begin());
}

// The column that holds this radius, which lies inside the grid.
inline std::size_t column_at(const mesh::AxisymmetricGrid& grid, double r) {
  const auto& edges = grid.r_edges();
  return static_cast<std::size_t>(std::upper_bound(edges.begin(), edges.end(), r) - edges.begin()) -
         1;
}

}  // namespace tabmelt::test
