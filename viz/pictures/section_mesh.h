// A run's half-section as a mesh: x = r, y = z in millimetres.
//
// Every part has nodes of its own, each with the mean over the part's cells around it, so that
// neither empty space nor the jump across a contact blurs into the metal. The cone of a tapered
// electrode, stored in steps, is straight: the empty cells that it cuts belong to it, and nodes
// beyond it move onto it.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "viz/pictures/contours.h"
#include "viz/pictures/parts.h"

namespace tabmelt::pictures {

struct SectionMesh {
  Mesh mesh;
  std::vector<std::uint8_t> parts;                     // per cell of the mesh
  std::vector<std::size_t> places;                     // likewise: its number in the run
  std::vector<std::array<std::int32_t, 4>> sources;    // per node: cells of the run; -1: none
  std::vector<std::array<std::size_t, 2>> grid_nodes;  // per node: its column and row

  // `field` has one value per cell of the run.
  std::vector<float> at_nodes(const std::vector<float>& field) const;
};

SectionMesh section_mesh(const StoredRun&, const std::vector<std::uint8_t>& parts, const Window&);
// All parts, all of the model.
SectionMesh section_mesh(const StoredRun&);
Window whole(const StoredRun&);

}  // namespace tabmelt::pictures
