// A run's half-section as a mesh: x = r, y = z in millimetres.
//
// Every part has nodes of its own, so that neither empty space nor the jump across a contact blurs
// into the metal. A node takes its value from the cells of its part around it: linear between their
// middles, and on to the part's surfaces above and below; even about the axis. The cone of a
// tapered electrode, stored in steps, is straight: the empty cells that it cuts belong to it, and
// nodes beyond it move onto it. A domed face lifts off the strip beside what touches.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "viz/pictures/contours.h"
#include "viz/pictures/parts.h"

namespace tabmelt::pictures {

// What a node's value is made from: the cells of the run and their weights, which add up to one.
struct Stencil {
  std::array<std::int32_t, 4> cells{-1, -1, -1, -1};  // -1: none
  std::array<float, 4> weights{};
};

// A piece of the surface between two rows of cells of different parts: its inner and outer node on
// either side; -1 where the mesh has none.
struct Interface {
  std::array<std::int32_t, 2> below{-1, -1}, above{-1, -1};
};

struct SectionMesh {
  Mesh mesh;
  std::vector<Stencil> stencils;                       // per node
  std::vector<std::uint8_t> node_parts;                // per node
  std::vector<std::array<std::size_t, 2>> grid_nodes;  // per node: its column and row
  std::vector<Point> flat;                             // per node: its place under a flat tip
  std::vector<Interface> interfaces;
  std::optional<Tip> tip;
  std::uint8_t electrode = 0;

  // `field` has one value per cell of the run.
  std::vector<float> at_nodes(const std::vector<float>& field) const;
  // Draws the tip as it touches over this radius [m]; another one may follow.
  void settle(double touching);
};

// All of the model.
Window whole(const StoredRun&);

// Some parts of a run with their contours, the tip as it touches at a time [s] or, unset, at most.
struct Section : SectionMesh {
  Section(const StoredRun&, const std::vector<std::uint8_t>& parts, const Window&,
          const std::optional<double>& time = {});
  Section(const Section&) = delete;
  Section& operator=(const Section&) = delete;

  Contours contours;  // of the mesh, wherever its nodes settle
};

}  // namespace tabmelt::pictures
