#include "solver/coupling/weld_model.h"

#include <algorithm>
#include <cmath>

#include "mesh/spacing.h"
#include "solver/contact/indentation.h"

namespace tabmelt {
namespace {

// The default grid rule: cell sizes as shares of the lengths that set the field. Chosen from the
// convergence study in tests/verification/default_grid.cpp.
constexpr double strip_share = 1.0 / 18;  // of the strip's thickness, at its surfaces
constexpr double can_share = 1.0 / 14;    // of the can's
constexpr double layer_share = 1.0 / 8;   // of an inner layer's, at most:
constexpr double layer_largest = 25e-6;   // [m] at its surfaces
constexpr double axis_share = 1.0 / 16;   // of the contact radius, at the axis
constexpr double edge_share = 1.0 / 36;   // at the contact's edge
constexpr double spot_share = 1.0 / 6;    // of the cold face, inside it
constexpr double rim_share = 1.0 / 16;    // at that face's edge, where the current crowds
constexpr double sweep_share = 1.0 / 60;  // of the rod's end, where its edge may move
constexpr double swept_share = 0.7;       // of the rod's end: how far it may
constexpr double radial_growth = 0.16;
constexpr double axial_growth = 0.22;

double cone_height(const Electrode& e) {
  if (e.taper_angle <= 0 || e.body_radius <= e.tip_radius) return 0;
  return (e.body_radius - e.tip_radius) / std::tan(e.taper_angle);
}

std::vector<mesh::Part> parts_of(const Problem& p) {
  std::vector<mesh::Part> parts;
  const double bottom = p.strip.thickness, top = bottom + p.electrode.length;
  const double cone = cone_height(p.electrode);
  if (cone > 0) {
    const double end = std::min(bottom + cone, top);
    const double radius =
        p.electrode.tip_radius + (end - bottom) * std::tan(p.electrode.taper_angle);
    parts.push_back({"electrode", region::electrode, bottom, end, p.electrode.tip_radius, radius});
    if (end < top)
      parts.push_back({"electrode", region::electrode, end, top, p.electrode.body_radius,
                       p.electrode.body_radius});
  } else {
    parts.push_back({"electrode", region::electrode, bottom, top, p.electrode.tip_radius,
                     p.electrode.tip_radius});
  }
  parts.push_back({"strip", region::strip, 0, bottom, p.strip.radius, p.strip.radius});
  double z = -p.can.thickness;
  parts.push_back({"can", region::can, z, 0, p.can.radius, p.can.radius});
  for (std::size_t n = 0; n < p.inner.size(); ++n) {
    parts.push_back({p.inner[n].name, static_cast<std::uint8_t>(region::inner_first + n),
                     z - p.inner[n].thickness, z, p.can.radius, p.can.radius});
    z -= p.inner[n].thickness;
  }
  return parts;
}

// Sorted; of edges closer together than `closest` the first one stays.
std::vector<double> distinct(std::vector<double> edges, double closest) {
  std::sort(edges.begin(), edges.end());
  std::vector<double> kept;
  for (const double e : edges)
    if (kept.empty() || e - kept.back() > closest) kept.push_back(e);
  return kept;
}

mesh::Spacing axial_spacing(const Problem& p, const std::vector<mesh::Part>& parts,
                            double hot_radius) {
  mesh::Spacing s;
  const double ts = p.strip.thickness, tc = p.can.thickness;
  for (const mesh::Part& part : parts) {
    s.fixed.push_back(part.z_bottom);
    s.fixed.push_back(part.z_top);
  }
  s.fixed = distinct(s.fixed, 1e-9);
  // Current narrows towards a small face over its radius, however thick the strip.
  s.features = {{ts, std::min(ts * strip_share, hot_radius * spot_share)},
                {0, std::min(ts * strip_share, tc * can_share)},
                {-tc, tc * can_share}};
  for (const mesh::Part& part : parts) {
    if (part.region < region::inner_first) continue;
    const double size = std::min(layer_largest, (part.z_top - part.z_bottom) * layer_share);
    s.features.push_back({part.z_top, size});
    s.features.push_back({part.z_bottom, size});
  }
  s.growth = axial_growth;
  s.largest = 0.25 * (s.fixed.back() - s.fixed.front());
  s.resolution = p.numerics.resolution;
  return s;
}

mesh::Spacing radial_spacing(const Problem& p, double hot_radius) {
  mesh::Spacing s;
  const double tip = p.electrode.tip_radius;
  const double outer = std::max({p.strip.radius, p.can.radius, p.electrode.body_radius});
  std::vector<double> edges{
      0, tip, p.tip_contact.radius, p.faying_contact.radius, p.strip.radius, p.can.radius, outer};
  if (!p.strip.slit && p.strip.rim_radius > 0) edges.push_back(p.strip.rim_radius);
  if (p.can.rim_radius > 0) edges.push_back(p.can.rim_radius);
  if (hot_radius < tip) edges.push_back(hot_radius);
  s.fixed = distinct(edges, 1e-3 * tip);
  if (hot_radius < tip) {
    // The tip sinks in during the pulse and the edge of its face sweeps outwards: fine all the way.
    s.features = {{0, hot_radius * spot_share}, {hot_radius, hot_radius * rim_share}};
    for (double r = hot_radius; r < swept_share * tip; r += 0.1 * tip)
      s.features.push_back({r, std::max(hot_radius * spot_share, tip * sweep_share)});
    s.features.push_back({swept_share * tip, tip * sweep_share});
    s.features.push_back({tip, tip * edge_share * 3});
  } else {
    s.features = {{0, tip * axis_share}, {tip, tip * edge_share}};
    if (p.faying_contact.radius > tip)
      s.features.push_back({p.faying_contact.radius, p.faying_contact.radius * edge_share});
  }
  s.growth = radial_growth;
  s.largest = 0.2 * outer;
  s.resolution = p.numerics.resolution;
  return s;
}

ContactPlane plane_at(const mesh::AxisymmetricGrid& grid, double z, double radius) {
  ContactPlane plane;
  plane.below = grid.row_edge(z) - 1;
  const std::vector<double>& edges = grid.r_edges();
  // The lattice sees columns end inside their last face (finite_volume/edge_share.h), so one or two
  // beyond the contact's radius may have to conduct a little.
  const double height = std::max(grid.dz(plane.below), grid.dz(plane.below + 1));
  const auto reaches = [&](std::size_t i) {
    return edges[i] - 0.25 * std::hypot(edges[i + 1] - edges[i], height) < radius * (1 - 1e-6);
  };
  const auto area = [&](std::size_t i) { return grid.axial_area(grid.index(i, plane.below)); };
  while (plane.columns < grid.nr() && area(plane.columns) > 0 && reaches(plane.columns))
    plane.area.push_back(area(plane.columns++));
  plane.open_area = plane.area;
  return plane;
}

// Radii that differ by less than the grid resolves share an edge: the nearest one stands for both.
std::size_t nearest_column_edge(const mesh::AxisymmetricGrid& grid, double radius) {
  const std::vector<double>& edges = grid.r_edges();
  std::size_t nearest = 1;
  for (std::size_t n = 1; n < edges.size(); ++n)
    if (std::abs(edges[n] - radius) < std::abs(edges[nearest] - radius)) nearest = n;
  return nearest;
}

// Radius over which the cold tip touches under its full force.
double cold_face(const Problem& p) {
  if (p.tip_contact.law != ContactLaw::constriction) return p.tip_contact.radius;
  const auto modulus = [](const MaterialPtr& m) { return m->elastic_modulus.value_or(0); };
  const double hardness = p.tip_contact.hardness.value_or(std::min(
      p.electrode.material->hardness.value_or(1e12), p.strip.material->hardness.value_or(1e12)));
  const double face =
      std::max(indentation_radius(p.pressing.force, hardness),
               hertz_radius(p.pressing.force, p.electrode.face_radius,
                            modulus(p.electrode.material), modulus(p.strip.material)));
  return std::min(p.tip_contact.radius, face);
}
}  // namespace

WeldModel build_model(const Problem& p) {
  WeldModel m;
  const std::vector<mesh::Part> parts = parts_of(p);

  m.region_names = {"empty", "electrode", "strip", "can"};
  m.laws.resize(4 + p.inner.size());
  const auto set_law = [&](std::size_t number, const MaterialPtr& material) {
    m.laws[number].material = material.get();
    m.laws[number].table = std::make_unique<PropertyTable>(*material);
    m.laws[number].enthalpy = std::make_unique<Enthalpy>(*material);
  };
  set_law(region::electrode, p.electrode.material);
  set_law(region::strip, p.strip.material);
  set_law(region::can, p.can.material);
  for (std::size_t n = 0; n < p.inner.size(); ++n) {
    m.region_names.push_back(p.inner[n].name);
    set_law(region::inner_first + n, p.inner[n].material);
  }

  // Not the rod but the face over which its cold tip touches sets the hot spot's size.
  m.cold_face = cold_face(p);
  const double hot_radius = m.cold_face;
  const double log_beyond = std::max(p.tip_contact.radius, p.faying_contact.radius) * (1 + 1e-6);
  m.grid = mesh::AxisymmetricGrid(mesh::graded_edges(radial_spacing(p, hot_radius)),
                                  mesh::graded_edges(axial_spacing(p, parts, hot_radius)), parts,
                                  log_beyond);

  const mesh::AxisymmetricGrid& grid = m.grid;
  m.wall_row = grid.row_edge(-p.can.thickness);
  m.faying_row = grid.row_edge(0) - 1;
  m.strip_top_row = grid.row_edge(p.strip.thickness) - 1;
  double z = -p.can.thickness;
  for (const InnerLayer& layer : p.inner) {
    m.layer_top_rows.push_back(grid.row_edge(z) - 1);
    z -= layer.thickness;
  }
  m.current_rows = {m.wall_row, grid.nz() - m.wall_row};
  m.planes = {plane_at(grid, p.strip.thickness, p.tip_contact.radius),
              plane_at(grid, 0, p.faying_contact.radius)};
  m.rims.push_back(
      {m.wall_row, m.faying_row - m.wall_row + 1, nearest_column_edge(grid, p.can.rim_radius)});
  if (!p.strip.slit)
    m.rims.push_back({m.faying_row + 1, m.strip_top_row - m.faying_row,
                      nearest_column_edge(grid, p.strip.rim_radius)});
  return m;
}

}  // namespace tabmelt
