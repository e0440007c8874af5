#include "viz/pictures/section_mesh.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace tabmelt::pictures {

std::vector<float> SectionMesh::at_nodes(const std::vector<float>& field) const {
  std::vector<float> values;
  values.reserve(sources.size());
  for (const auto& cells : sources) {
    float sum = 0;
    int count = 0;
    for (const std::int32_t cell : cells) {
      if (cell >= 0 && static_cast<std::size_t>(cell) < field.size()) {
        sum += field[static_cast<std::size_t>(cell)];
        ++count;
      }
    }
    values.push_back(count > 0 ? sum / static_cast<float>(count) : 0);
  }
  return values;
}

SectionMesh section_mesh(const StoredRun& run, const std::vector<std::uint8_t>& parts,
                         const Window& window) {
  const Range range = range_of(run, window);
  const std::size_t nr = columns(run);
  const std::uint8_t electrode = electrode_of(run);
  const Polyline cone = silhouette(run, electrode);
  const auto part_drawn = [&](std::size_t i, std::size_t j) -> std::uint8_t {
    const std::uint8_t own = region_at(run, i, j);
    if (own != mesh::empty || cone.empty() || i == 0) {
      return own;
    }
    const bool cut = run.z_edges[j] >= cone.front().y && run.z_edges[j + 1] <= cone.back().y &&
                     run.r_edges[i] < std::max(radius_at(cone, run.z_edges[j]),
                                               radius_at(cone, run.z_edges[j + 1]));
    return cut ? electrode : own;
  };
  SectionMesh section;
  std::map<std::tuple<std::uint8_t, std::size_t, std::size_t>, std::int32_t> known;
  const auto node = [&](std::uint8_t part, std::size_t i, std::size_t j) {
    const auto [entry, is_new] = known.emplace(
        std::make_tuple(part, i, j), static_cast<std::int32_t>(section.mesh.nodes.size()));
    if (is_new) {
      double r = run.r_edges[i];
      if (part == electrode && !cone.empty()) {
        r = std::min(r, radius_at(cone, run.z_edges[j]));
      }
      section.mesh.nodes.push_back({r * millimetres, run.z_edges[j] * millimetres});
      section.sources.push_back({-1, -1, -1, -1});
      section.grid_nodes.push_back({i, j});
    }
    return entry->second;
  };
  for (std::size_t j = range.j_begin; j < range.j_end; ++j) {
    std::size_t source = 0;  // a cell that the cone cuts takes the value of its neighbour inside
    for (std::size_t i = 0; i < nr; ++i) {
      const std::uint8_t part = part_drawn(i, j);
      // A cell of the cone may reach into the window from beyond once its nodes have moved.
      const bool near = i < range.i_end || part == electrode;
      if (!near || part == mesh::empty ||
          std::find(parts.begin(), parts.end(), part) == parts.end()) {
        continue;
      }
      if (region_at(run, i, j) == part) {
        source = j * nr + i;
      }
      const std::array<std::int32_t, 4> corners{node(part, i, j), node(part, i + 1, j),
                                                node(part, i + 1, j + 1), node(part, i, j + 1)};
      for (std::size_t k = 0; k < 4; ++k) {
        section.sources[static_cast<std::size_t>(corners[k])][k] =
            static_cast<std::int32_t>(source);
      }
      section.mesh.cells.push_back(corners);
      section.parts.push_back(part);
      section.places.push_back(j * nr + i);
    }
  }
  return section;
}

Window whole(const StoredRun& run) {
  return {run.r_edges.back(), run.z_edges.front(), run.z_edges.back()};
}

SectionMesh section_mesh(const StoredRun& run) {
  return section_mesh(run, regions_inside(run, whole(run)), whole(run));
}

}  // namespace tabmelt::pictures
