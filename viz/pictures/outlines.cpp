#include "viz/pictures/outlines.h"

#include <algorithm>
#include <cmath>

#include "viz/pictures/contours.h"
#include "viz/pictures/section_mesh.h"

namespace tabmelt::pictures {

namespace {

// Value of one side of an interface at column edge i, from the cells of row j left and right of it.
double side_value(const StoredRun& run, const std::vector<float>& field, std::size_t i,
                  std::size_t j, std::uint8_t region) {
  double sum = 0;
  int count = 0;
  for (const std::size_t column : {i, i - 1}) {  // i - 1 wraps around at the axis
    if (column < columns(run) && region_at(run, column, j) == region) {
      sum += field[j * columns(run) + column];
      ++count;
    }
  }
  return count > 0 ? sum / count : 0;
}

// Part of the interface piece below row j, column i, where only one side reaches the level.
void add_one_sided(const StoredRun& run, const std::vector<float>& field, double level,
                   std::size_t i, std::size_t j, std::vector<Polyline>& lines) {
  const std::uint8_t above = region_at(run, i, j), below = region_at(run, i, j - 1);
  const double z = run.z_edges[j] * millimetres;
  const double r0 = run.r_edges[i] * millimetres, r1 = run.r_edges[i + 1] * millimetres;
  double ends[2][2] = {
      {side_value(run, field, i, j, above), side_value(run, field, i + 1, j, above)},
      {side_value(run, field, i, j - 1, below), side_value(run, field, i + 1, j - 1, below)}};
  std::vector<double> cuts{0, 1};
  for (const auto& side : ends) {
    if ((side[0] >= level) != (side[1] >= level)) {
      cuts.push_back((level - side[0]) / (side[1] - side[0]));
    }
  }
  std::sort(cuts.begin(), cuts.end());
  for (std::size_t k = 1; k < cuts.size(); ++k) {
    const double middle = 0.5 * (cuts[k - 1] + cuts[k]);
    const bool hot_above = std::lerp(ends[0][0], ends[0][1], middle) >= level;
    const bool hot_below = std::lerp(ends[1][0], ends[1][1], middle) >= level;
    if (hot_above != hot_below && cuts[k] > cuts[k - 1]) {
      lines.push_back({{std::lerp(r0, r1, cuts[k - 1]), z}, {std::lerp(r0, r1, cuts[k]), z}});
    }
  }
}

}  // namespace

std::vector<Polyline> set_outline(const StoredRun& run, const std::vector<float>& field,
                                  double level, const std::vector<std::uint8_t>& regions,
                                  const Window& window) {
  if (field.size() != run.region.size()) {
    return {};
  }
  const SectionMesh section = section_mesh(run, regions, window);
  std::vector<Polyline> lines = Contours(section.mesh).lines_at(section.at_nodes(field), level);
  const auto chosen = [&](std::uint8_t region) {
    return std::find(regions.begin(), regions.end(), region) != regions.end();
  };
  const Range range = range_of(run, window);
  for (std::size_t j = std::max<std::size_t>(range.j_begin, 1); j < range.j_end; ++j) {
    for (std::size_t i = 0; i < range.i_end; ++i) {
      const std::uint8_t above = region_at(run, i, j), below = region_at(run, i, j - 1);
      if (above != below && (chosen(above) || chosen(below))) {
        add_one_sided(run, field, level, i, j, lines);
      }
    }
  }
  return lines;
}

std::vector<Polyline> part_outlines(const StoredRun& run, const Window& window) {
  const Range range = range_of(run, window);
  std::vector<Polyline> lines;
  const std::uint8_t electrode = electrode_of(run);
  const Polyline cone = silhouette(run, electrode);
  const auto hidden = [&](std::uint8_t a, std::uint8_t b) {
    return a == b ||
           (!cone.empty() && std::min(a, b) == mesh::empty && std::max(a, b) == electrode);
  };
  const auto mm = [](double metres) { return metres * millimetres; };
  for (std::size_t j = std::max<std::size_t>(range.j_begin, 1); j < range.j_end; ++j) {
    for (std::size_t i = 0; i < range.i_end; ++i) {
      std::size_t end = i;
      while (end < range.i_end && !hidden(region_at(run, end, j), region_at(run, end, j - 1))) {
        ++end;
      }
      if (end > i) {
        const double z = mm(run.z_edges[j]);
        lines.push_back({{mm(run.r_edges[i]), z}, {mm(run.r_edges[end]), z}});
        i = end;
      }
    }
  }
  for (std::size_t i = 1; i < range.i_end; ++i) {
    for (std::size_t j = range.j_begin; j < range.j_end; ++j) {
      std::size_t end = j;
      while (end < range.j_end && !hidden(region_at(run, i - 1, end), region_at(run, i, end))) {
        ++end;
      }
      if (end > j) {
        const double r = mm(run.r_edges[i]);
        lines.push_back({{r, mm(run.z_edges[j])}, {r, mm(run.z_edges[end])}});
        j = end;
      }
    }
  }
  if (!cone.empty()) {
    Polyline line;
    for (const Point& p : cone) {
      line.push_back({mm(p.x), mm(p.y)});
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

}  // namespace tabmelt::pictures
