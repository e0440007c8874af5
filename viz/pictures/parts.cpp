#include "viz/pictures/parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solver/catalogue/catalogue.h"
#include "solver/words/in_words.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

namespace {

std::vector<std::uint8_t> regions_where(const StoredRun& run, bool (*wanted)(const Part&)) {
  std::vector<std::uint8_t> regions;
  for (std::size_t n = 0; n < run.parts.size(); ++n)
    if (wanted(run.parts[n])) regions.push_back(static_cast<std::uint8_t>(n));
  return regions;
}

}  // namespace

std::uint8_t electrode_of(const StoredRun& run) {
  const auto found =
      regions_where(run, [](const Part& part) { return part.role == Role::electrode; });
  return found.empty() ? mesh::empty : found.front();
}

std::vector<std::uint8_t> sheets_of(const StoredRun& run) { return regions_where(run, is_sheet); }

std::vector<std::uint8_t> layers_of(const StoredRun& run) {
  return regions_where(run, [](const Part& part) { return part.role == Role::layer; });
}

bool is_metal(const StoredRun& run, std::uint8_t region) {
  if (region >= run.parts.size()) return false;
  return is_sheet(run.parts[region]) || run.parts[region].role == Role::electrode;
}

std::string name_of(const StoredRun& run, std::uint8_t region) {
  return region < run.parts.size() ? run.parts[region].name : fmt::format("part {}", region);
}

std::string top_sheet_name(const StoredRun& run) {
  const auto sheets = sheets_of(run);
  return sheets.empty() ? "strip" : name_of(run, sheets.front());
}

std::string wall_name(const StoredRun& run) {
  const auto sheets = sheets_of(run);
  if (sheets.empty() || run.parts[sheets.back()].role == Role::can) return "inner can wall";
  return "underside of " + name_of(run, sheets.back());
}

std::optional<double> sheet_number(const StoredRun& run, std::uint8_t region,
                                   const std::string& what) {
  return scalar_of(run, key_of(name_of(run, region)) + "_" + what);
}

std::optional<double> top_solidus(const StoredRun& run) {
  const auto sheets = sheets_of(run);
  return sheets.empty() ? std::nullopt : sheet_number(run, sheets.front(), "solidus");
}

std::size_t columns(const StoredRun& run) { return run.r_edges.size() - 1; }
std::size_t rows(const StoredRun& run) { return run.z_edges.size() - 1; }

std::uint8_t region_at(const StoredRun& run, std::size_t column, std::size_t row) {
  return run.region[row * columns(run) + column];
}

std::optional<std::size_t> cell_at(const StoredRun& run, Point mm) {
  const auto between = [](const std::vector<double>& edges, double value) {
    const auto above = std::upper_bound(edges.begin(), edges.end(), value);
    return above == edges.begin() || above == edges.end()
               ? std::optional<std::size_t>()
               : std::optional<std::size_t>(static_cast<std::size_t>(above - edges.begin() - 1));
  };
  const auto i = between(run.r_edges, std::abs(mm.x) / millimetres);
  const auto j = between(run.z_edges, mm.y / millimetres);
  if (!i || !j || region_at(run, *i, *j) == mesh::empty) {
    return std::nullopt;
  }
  return *j * columns(run) + *i;
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

std::optional<Extent> extent_of(const StoredRun& run, std::uint8_t region) {
  const std::vector<RowReach> reach = reach_of(run, region);
  if (reach.empty()) return std::nullopt;
  Extent extent{run.z_edges[reach.front().row], run.z_edges[reach.back().row + 1], 0};
  for (const RowReach& row : reach) {
    extent.outer = std::max(extent.outer, run.r_edges[row.outer_edge]);
  }
  return extent;
}

std::optional<Extent> top_sheet(const StoredRun& run) {
  const auto sheets = sheets_of(run);
  return sheets.empty() ? std::nullopt : extent_of(run, sheets.front());
}

std::optional<Extent> lowest_sheet(const StoredRun& run) {
  const auto sheets = sheets_of(run);
  return sheets.empty() ? std::nullopt : extent_of(run, sheets.back());
}

double Tip::lift(double r, double touching) const {
  if (!curvature || r <= touching) return 0;
  const double out = std::min(r, radius);
  return std::max(0.0, (out * out - touching * touching) / (2 * *curvature));
}

double Tip::cone(double z) const {
  return taper > 0 ? std::clamp(radius + (z - foot) * std::tan(taper), radius, body) : radius;
}

Point Tip::lifted(const Point& flat, double touching) const {
  // Within a few times the gap at its edge, so that rows stay in order.
  const double reach = 4 * lift(radius, touching);
  if (!(reach > 0) || flat.y - foot > reach) return flat;
  const double z = flat.y + (1 - (flat.y - foot) / reach) * lift(flat.x, touching);
  return {flat.x * cone(z) / cone(flat.y), z};
}

Polyline Tip::arc(double touching) const {
  if (!curvature || touching >= radius) return {};
  Polyline points;
  constexpr int steps = 40;
  for (int k = 0; k <= steps; ++k) {
    const double r = std::lerp(touching, radius, static_cast<double>(k) / steps);
    points.push_back(lifted({r, foot}, touching));
  }
  return points;
}

std::optional<Tip> tip_of(const StoredRun& run) {
  const auto radius = scalar_of(run, "tip_radius"), body = scalar_of(run, "electrode_body_radius");
  const auto rod = extent_of(run, electrode_of(run));
  if (!radius || !body || !(*radius > 0) || !(*body >= *radius) || !rod) return std::nullopt;
  Tip tip{rod->low, *radius, *body, scalar_of(run, "electrode_taper_angle").value_or(0), {}};
  if (!(tip.taper >= 0 && tip.taper < 1.57)) return std::nullopt;
  if (const auto R = scalar_of(run, "electrode_face_radius"); R && *R > tip.radius) {
    tip.curvature = R;
  }
  return tip;
}

double touching_radius(const StoredRun& run, const std::optional<double>& time) {
  const auto most = scalar_of(run, "tip_contact_radius");
  const auto now = time ? value_at(run, "tip_contact_radius", *time) : std::nullopt;
  if (now || most) return std::max(0.0, now.value_or(most.value_or(0)));
  const auto tip = tip_of(run);
  return tip ? tip->radius : 0;
}

namespace {

Polyline silhouette_of(const Tip& tip, double top) {
  Polyline line{{tip.radius, tip.foot}};
  if (tip.body > tip.radius && tip.taper > 0) {
    const double shoulder = tip.foot + (tip.body - tip.radius) / std::tan(tip.taper);
    if (shoulder >= top) {
      line.push_back({tip.radius + (top - tip.foot) * std::tan(tip.taper), top});
      return line;
    }
    line.push_back({tip.body, shoulder});
  }
  line.push_back({line.back().x, top});
  return line;
}

}  // namespace

Polyline silhouette(const StoredRun& run, std::uint8_t region) {
  const std::vector<RowReach> reach = reach_of(run, region);
  if (const auto tip = tip_of(run); tip && region == electrode_of(run)) {
    return silhouette_of(*tip, run.z_edges[reach.back().row + 1]);
  }
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

}  // namespace tabmelt::pictures
