// Where a field given at the nodes of a mesh passes a level, linear along the sides of its cells,
// with the corners that come from the cells rounded off.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "viz/drawing/page.h"

namespace tabmelt::pictures {

using namespace drawing;

// Four-sided cells that touch only along whole sides and only if they share their nodes.
struct Mesh {
  std::vector<Point> nodes;
  std::vector<std::array<std::int32_t, 4>> cells;  // corners, anticlockwise
};

class Contours {
 public:
  explicit Contours(const Mesh&);  // which must outlive this

  // Around the places where the field is at least `level`: closed, with them at the left.
  std::vector<Polyline> outlines(const std::vector<float>& at_nodes, double level) const;
  // Lines on which the field is `level`, higher at their left.
  std::vector<Polyline> lines_at(const std::vector<float>& at_nodes, double level) const;

 private:
  const Mesh& mesh_;
  std::vector<std::array<bool, 4>> rim_;  // sides of cells without a neighbour
};

}  // namespace tabmelt::pictures
