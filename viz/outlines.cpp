#include "viz/outlines.h"

#include <vtkPolyData.h>

#include <algorithm>
#include <cmath>

#include "viz/pictures.h"
#include "viz/structured_mesh.h"

namespace tabmelt {

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

std::size_t columns(const StoredRun& run) { return run.r_edges.size() - 1; }
std::size_t rows(const StoredRun& run) { return run.z_edges.size() - 1; }

std::uint8_t region_at(const StoredRun& run, std::size_t column, std::size_t row) {
  return run.region[row * columns(run) + column];
}

void require_mesh(const StoredRun& run) {
  if (run.r_edges.size() < 2 || run.z_edges.size() < 2) {
    throw PictureError("the result holds no mesh");
  }
  if (run.region.size() != columns(run) * rows(run)) {
    throw PictureError("the result's regions do not match its mesh");
  }
}

Range range_of(const StoredRun& run, const Window& window) {
  Range range;
  const auto below = [](const std::vector<double>& edges, double value) {
    return static_cast<std::size_t>(std::lower_bound(edges.begin(), edges.end(), value) -
                                    edges.begin());
  };
  range.i_end = std::min(below(run.r_edges, window.r_max), columns(run));
  range.j_end = std::min(below(run.z_edges, window.z_max), rows(run));
  const std::size_t first = below(run.z_edges, window.z_min);
  range.j_begin = std::min(first > 0 ? first - 1 : 0, range.j_end);
  return range;
}

std::vector<std::uint8_t> regions_inside(const StoredRun& run, const Window& window) {
  const Range range = range_of(run, window);
  std::vector<bool> seen(256, false);
  for (std::size_t j = range.j_begin; j < range.j_end; ++j) {
    for (std::size_t i = 0; i < range.i_end; ++i) {
      seen[region_at(run, i, j)] = true;
    }
  }
  std::vector<std::uint8_t> regions;
  for (std::size_t k = 1; k < seen.size(); ++k) {
    if (seen[k]) {
      regions.push_back(static_cast<std::uint8_t>(k));
    }
  }
  return regions;
}

std::vector<RowReach> reach_of(const StoredRun& run, std::uint8_t region) {
  std::vector<RowReach> reach;
  for (std::size_t j = 0; j < rows(run); ++j) {
    for (std::size_t i = columns(run); i-- > 0;) {
      if (region_at(run, i, j) == region) {
        reach.push_back({j, i + 1});
        break;
      }
    }
  }
  return reach;
}

bool extent_of(const StoredRun& run, std::uint8_t region, Extent& extent) {
  const std::vector<RowReach> reach = reach_of(run, region);
  if (reach.empty()) {
    return false;
  }
  extent.low = run.z_edges[reach.front().row];
  extent.high = run.z_edges[reach.back().row + 1];
  extent.outer = 0;
  for (const RowReach& row : reach) {
    extent.outer = std::max(extent.outer, run.r_edges[row.outer_edge]);
  }
  return true;
}

Polyline silhouette(const StoredRun& run, std::uint8_t region) {
  const std::vector<RowReach> reach = reach_of(run, region);
  // A cell counts as filled where the body fills any of it, so the surface passes through the
  // outermost cell of a row: at the top of the last row that reaches no further, midway. The foot
  // of a cone and a cylinder's side lie on edges.
  Polyline corners;
  for (std::size_t n = 0; n < reach.size(); ++n) {
    const std::size_t edge = reach[n].outer_edge;
    const bool last = edge == reach.back().outer_edge;
    if (n > 0 && edge < reach[n - 1].outer_edge) {
      return {};
    }
    const double inner = run.r_edges[edge - 1], outer = run.r_edges[edge];
    if (n == 0) {
      corners.push_back({last ? outer : inner, run.z_edges[reach[n].row]});
    }
    if (last || reach[n + 1].outer_edge > edge) {
      corners.push_back({last ? outer : 0.5 * (inner + outer), run.z_edges[reach[n].row + 1]});
    }
  }
  if (corners.size() < 3 || corners.front().x == corners.back().x) {
    return {};
  }
  Polyline hull;
  for (const Point& p : corners) {
    const auto bends_inwards = [&] {
      const Point& a = hull[hull.size() - 2];
      const Point& b = hull.back();
      return (b.x - a.x) * (p.y - a.y) <= (p.x - a.x) * (b.y - a.y);
    };
    while (hull.size() >= 2 && bends_inwards()) {
      hull.pop_back();
    }
    hull.push_back(p);
  }
  return hull;
}

double radius_at(const Polyline& outline, double z) {
  for (std::size_t k = 1; k < outline.size(); ++k) {
    if (z <= outline[k].y) {
      const Point a = outline[k - 1], b = outline[k];
      return std::lerp(a.x, b.x, std::clamp((z - a.y) / (b.y - a.y), 0.0, 1.0));
    }
  }
  return outline.back().x;
}

std::vector<Polyline> set_outline(const StoredRun& run, const std::vector<float>& field,
                                  double level, const std::vector<std::uint8_t>& regions,
                                  const Window& window) {
  std::vector<Polyline> lines;
  if (field.size() != run.region.size()) {
    return lines;
  }
  for (const std::uint8_t region : regions) {
    for (Polyline& line : isolines(region_mesh(run, field, region, window), level)) {
      lines.push_back(std::move(line));
    }
  }
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
  const Polyline cone = silhouette(run, region::electrode);
  const auto hidden = [&](std::uint8_t a, std::uint8_t b) {
    return a == b || (!cone.empty() && std::min(a, b) == region::empty &&
                      std::max(a, b) == region::electrode);
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

}  // namespace tabmelt
