#include "viz/pictures/section_mesh.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace tabmelt::pictures {

namespace {

// Two cells along one axis and how much each counts.
struct Pair {
  std::array<std::size_t, 2> at{};
  std::array<double, 2> weight{1, 0};
};

double middle(const std::vector<double>& edges, std::size_t n) {
  return 0.5 * (edges[n] + edges[n + 1]);
}

// Straight through the middles of cells a and b, at the coordinate `at`.
Pair through(const std::vector<double>& edges, std::size_t a, std::size_t b, double at) {
  const double ca = middle(edges, a), cb = middle(edges, b);
  const double share = (at - ca) / (cb - ca);
  return {{a, b}, {1 - share, share}};
}

class Sources {
 public:
  explicit Sources(const StoredRun& run) : run_(run) {}

  // Of the node at column edge i and row edge j, with the mesh cells around it as a way out.
  Stencil at(std::uint8_t part, std::size_t i, std::size_t j,
             const std::array<std::int32_t, 4>& around) const {
    const auto own = [&](std::size_t column, std::size_t row) {
      return column < columns(run_) && row < rows(run_) && region_at(run_, column, row) == part;
    };
    const std::size_t column = own(i, j) || own(i, j - 1) ? i : i - 1;
    const auto across = rows_at(own, column, j);
    if (!across) return mean(around);
    const auto along = columns_at(own, i, across->at);
    if (!along) return mean(around);
    Stencil stencil;
    for (std::size_t k = 0; k < 4; ++k) {
      const std::size_t c = k % 2, r = k / 2;
      const double weight = along->weight[c] * across->weight[r];
      if (weight == 0) continue;
      stencil.cells[k] = static_cast<std::int32_t>(across->at[r] * columns(run_) + along->at[c]);
      stencil.weights[k] = static_cast<float>(weight);
    }
    return stencil;
  }

 private:
  // Rows next to the node; at a surface of the part the two nearest to it.
  std::optional<Pair> rows_at(const auto& own, std::size_t column, std::size_t j) const {
    const double z = run_.z_edges[j];
    const bool above = own(column, j), below = j > 0 && own(column, j - 1);
    if (above && below) return through(run_.z_edges, j - 1, j, z);
    if (above && own(column, j + 1)) return through(run_.z_edges, j, j + 1, z);
    if (below && j > 1 && own(column, j - 2)) return through(run_.z_edges, j - 1, j - 2, z);
    if (above) return Pair{{j, j}, {1, 0}};
    if (below) return Pair{{j - 1, j - 1}, {1, 0}};
    return std::nullopt;
  }

  // Columns next to the node; no heat leaves sideways, so the outermost one speaks for the rim.
  std::optional<Pair> columns_at(const auto& own, std::size_t i,
                                 const std::array<std::size_t, 2>& both) const {
    const auto whole = [&](std::size_t column) {
      return own(column, both[0]) && own(column, both[1]);
    };
    if (i == 0) {
      if (!whole(0)) return std::nullopt;
      if (!whole(1)) return Pair{{0, 0}, {1, 0}};
      const double c0 = std::pow(middle(run_.r_edges, 0), 2);
      const double c1 = std::pow(middle(run_.r_edges, 1), 2);
      return Pair{{0, 1}, {c1 / (c1 - c0), -c0 / (c1 - c0)}};
    }
    const bool outer = whole(i), inner = whole(i - 1);
    if (outer && inner) return through(run_.r_edges, i - 1, i, run_.r_edges[i]);
    if (inner) return Pair{{i - 1, i - 1}, {1, 0}};
    if (outer) return Pair{{i, i}, {1, 0}};
    return std::nullopt;
  }

  static Stencil mean(const std::array<std::int32_t, 4>& around) {
    const auto count =
        std::count_if(around.begin(), around.end(), [](std::int32_t cell) { return cell >= 0; });
    Stencil stencil;
    for (std::size_t k = 0; k < 4; ++k) {
      stencil.cells[k] = around[k];
      stencil.weights[k] = around[k] < 0 ? 0 : 1.0F / static_cast<float>(count);
    }
    return stencil;
  }

  const StoredRun& run_;
};

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
    const bool cut =
        run.z_edges[j] >= cone.front().y - 1e-12 && run.z_edges[j + 1] <= cone.back().y + 1e-12 &&
        run.r_edges[i] <
            std::max(radius_at(cone, run.z_edges[j]), radius_at(cone, run.z_edges[j + 1])) - 1e-12;
    return cut ? electrode : own;
  };
  SectionMesh section;
  section.tip = tip_of(run);
  section.electrode = electrode;
  std::vector<std::array<std::int32_t, 4>> around;  // per node: cells of the run; -1: none
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
      section.flat.push_back(section.mesh.nodes.back());
      section.node_parts.push_back(part);
      around.push_back({-1, -1, -1, -1});
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
        around[static_cast<std::size_t>(corners[k])][k] = static_cast<std::int32_t>(source);
      }
      section.mesh.cells.push_back(corners);
    }
  }
  const Sources sources(run);
  for (std::size_t n = 0; n < around.size(); ++n) {
    const auto [i, j] = section.grid_nodes[n];
    section.stencils.push_back(sources.at(section.node_parts[n], i, j, around[n]));
  }
  const auto nodes_of = [&](std::size_t i, std::size_t j, std::uint8_t part) {
    std::array<std::int32_t, 2> ends{-1, -1};
    for (const std::size_t k : {std::size_t{0}, std::size_t{1}}) {
      const auto found = known.find({part, i + k, j});
      if (found == known.end()) return std::array<std::int32_t, 2>{-1, -1};
      ends[k] = found->second;
    }
    return ends;
  };
  for (std::size_t j = range.j_begin; j <= range.j_end; ++j) {
    for (std::size_t i = 0; i < range.i_end; ++i) {
      const std::uint8_t above = j < rows(run) ? part_drawn(i, j) : mesh::empty;
      const std::uint8_t below = j > 0 ? part_drawn(i, j - 1) : mesh::empty;
      if (above == below) continue;
      const Interface piece{nodes_of(i, j, below), nodes_of(i, j, above)};
      if (piece.below[0] >= 0 || piece.above[0] >= 0) section.interfaces.push_back(piece);
    }
  }
  return section;
}

}  // namespace

std::vector<float> SectionMesh::at_nodes(const std::vector<float>& field) const {
  std::vector<float> values;
  values.reserve(stencils.size());
  for (const Stencil& stencil : stencils) {
    float sum = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      const auto cell = static_cast<std::size_t>(stencil.cells[k]);
      if (stencil.cells[k] >= 0 && cell < field.size()) {
        sum += stencil.weights[k] * field[cell];
      }
    }
    values.push_back(sum);
  }
  return values;
}

void SectionMesh::settle(double touching) {
  if (!tip || !tip->curvature) return;
  for (std::size_t n = 0; n < mesh.nodes.size(); ++n) {
    if (node_parts[n] != electrode) continue;
    const Point at = tip->lifted({flat[n].x / millimetres, flat[n].y / millimetres}, touching);
    mesh.nodes[n] = {at.x * millimetres, at.y * millimetres};
  }
}

Window whole(const StoredRun& run) {
  return {run.r_edges.back(), run.z_edges.front(), run.z_edges.back()};
}

Section::Section(const StoredRun& run, const std::vector<std::uint8_t>& parts, const Window& window,
                 const std::optional<double>& time)
    : SectionMesh(section_mesh(run, parts, window)), contours(mesh) {
  settle(touching_radius(run, time));
}

}  // namespace tabmelt::pictures
