#include "solver/coupling/weld_model.h"

#include <algorithm>
#include <cmath>

#include "mesh/spacing.h"
#include "solver/contact/indentation.h"

namespace tabmelt {
namespace {

// The default grid rule: cell sizes as shares of the lengths that set the field. Chosen so that in
// the cases shipped the errors of nugget, joint and inner wall are alike, about a per cent: each
// share was halved alone and the change compared with a grid 3.2 times finer
// (tests/practice/demos_main.cpp prints such figures). The time steps add a fifth of that.
constexpr double sheet_share = 1.0 / 20;   // of a sheet's thickness, anywhere in it
constexpr double reach_share = 1.0 / 8;    // of how far heat comes before the first frame
constexpr double chilled_share = 1.0 / 3;  // of such a cell, where the tip chills the strip
constexpr double long_share = 1.0 / 10;    // of the electrode's length, in it and below the sheets
constexpr double layer_share = 1.0 / 6;    // of an inner layer's, at most:
constexpr double layer_largest = 25e-6;    // [m] at its surfaces
constexpr double axis_share = 1.0 / 16;    // of the contact radius, at the axis
constexpr double edge_share = 1.0 / 36;    // at the contact's edge
constexpr double spot_share = 1.0 / 12;    // of the cold face, inside it
constexpr double rim_share = 1.0 / 16;     // at that face's edge, where the current crowds
constexpr double sweep_share = 1.0 / 90;   // of the rod's end, where its edge may move
constexpr double swept_share = 0.7;        // of the rod's end: how far it may
constexpr double radial_growth = 0.22;
constexpr double axial_growth = 0.45;

double cone_height(const Electrode& e) {
  if (e.taper_angle <= 0 || e.body_radius <= e.tip_radius) return 0;
  return (e.body_radius - e.tip_radius) / std::tan(e.taper_angle);
}

// Numbers of the regions: electrode, sheets from the top, inner layers.
constexpr std::uint8_t electrode_region = 1;
std::uint8_t sheet_region(std::size_t n) {
  return static_cast<std::uint8_t>(electrode_region + 1 + n);
}
std::uint8_t layer_region(const Problem& p, std::size_t n) {
  return sheet_region(p.sheets.size() + n);
}

std::vector<mesh::Part> electrode_parts(const Electrode& e, double bottom) {
  const auto part = [](double from, double to, double radius_from, double radius_to) {
    return mesh::Part{"electrode", electrode_region, from, to, radius_from, radius_to};
  };
  const double top = bottom + e.length, cone = cone_height(e);
  if (cone <= 0) return {part(bottom, top, e.tip_radius, e.tip_radius)};
  const double end = std::min(bottom + cone, top);
  std::vector<mesh::Part> parts{
      part(bottom, end, e.tip_radius, e.tip_radius + (end - bottom) * std::tan(e.taper_angle))};
  if (end < top) parts.push_back(part(end, top, e.body_radius, e.body_radius));
  return parts;
}

// Height [m] of the surfaces of the sheets: that of the tip's face, then each sheet's lower one.
std::vector<double> sheet_heights(const Problem& p) {
  std::vector<double> heights(p.sheets.size() + 1);
  heights.back() = -p.base().thickness;
  heights[p.joints()] = 0;
  for (std::size_t n = p.joints(); n-- > 0;) heights[n] = heights[n + 1] + p.sheets[n].thickness;
  return heights;
}

std::vector<mesh::Part> parts_of(const Problem& p) {
  const std::vector<double> heights = sheet_heights(p);
  std::vector<mesh::Part> parts = electrode_parts(p.electrode, heights.front());
  for (std::size_t n = 0; n < p.sheets.size(); ++n)
    parts.push_back({p.sheets[n].name, sheet_region(n), heights[n + 1], heights[n],
                     p.sheets[n].radius, p.sheets[n].radius});
  double z = heights.back();
  for (std::size_t n = 0; n < p.inner.size(); ++n) {
    parts.push_back({p.inner[n].name, layer_region(p, n), z - p.inner[n].thickness, z,
                     p.base().radius, p.base().radius});
    z -= p.inner[n].thickness;
  }
  return parts;
}

// The lowest sheet always takes current away.
bool is_slit(const Problem& p, const Sheet& sheet) { return sheet.slit && &sheet != &p.base(); }

// Sorted; of edges closer together than `closest` the first one stays.
std::vector<double> distinct(std::vector<double> edges, double closest) {
  std::sort(edges.begin(), edges.end());
  std::vector<double> kept;
  for (const double e : edges)
    if (kept.empty() || e - kept.back() > closest) kept.push_back(e);
  return kept;
}

// [m] sqrt(a t): heat has come this far into a cold sheet when the first frame of the first pulse
// is kept, but for extremes.
double first_reach(const Problem& p, const Sheet& sheet) {
  double t = 1e-4;
  for (const circuit::OnTime& pulse : p.circuit.power_switch.train)
    if (pulse.on > 0) t = std::min(t, std::max(2e-6, pulse.on / p.numerics.frames));
  const Material& m = *sheet.material;
  const double T = p.boundary.ambient;
  return std::sqrt(m.conductivity_z(T) / (m.density * m.specific_heat.at(T)) * t);
}

mesh::Spacing axial_spacing(const Problem& p, const std::vector<mesh::Part>& parts,
                            double hot_radius) {
  mesh::Spacing s;
  for (const mesh::Part& part : parts) {
    s.fixed.push_back(part.z_bottom);
    s.fixed.push_back(part.z_top);
  }
  s.fixed = distinct(s.fixed, 1e-9);
  const std::vector<double> heights = sheet_heights(p);
  const auto cell = [&](std::size_t n) {
    const Sheet& sheet = p.sheets[n];
    return std::min(sheet.thickness * sheet_share, first_reach(p, sheet) * reach_share);
  };
  // Current narrows towards a small face over its radius, however thick the sheet.
  s.features = {{heights[0], std::min(cell(0), hot_radius * spot_share) * chilled_share}};
  for (std::size_t n = 1; n < p.sheets.size(); ++n)
    s.features.push_back({heights[n], std::min(cell(n - 1), cell(n))});
  s.features.push_back({heights.back(), cell(p.joints())});
  for (const mesh::Part& part : parts) {
    if (part.region < layer_region(p, 0)) continue;
    const double size = std::min(layer_largest, (part.z_top - part.z_bottom) * layer_share);
    s.features.push_back({part.z_top, size});
    s.features.push_back({part.z_bottom, size});
  }
  for (std::size_t k = 0; k + 1 < s.fixed.size(); ++k) {
    const double middle = 0.5 * (s.fixed[k] + s.fixed[k + 1]);
    double bound = p.electrode.length * long_share;
    for (std::size_t n = 0; n < p.sheets.size(); ++n)
      if (middle > heights[n + 1] && middle < heights[n])
        bound = p.sheets[n].thickness * sheet_share;
    s.largest_between.push_back(bound);
  }
  s.growth = axial_growth;
  s.resolution = p.numerics.resolution;
  return s;
}

mesh::Spacing radial_spacing(const Problem& p, double hot_radius) {
  mesh::Spacing s;
  const double tip = p.electrode.tip_radius;
  double outer = p.electrode.body_radius, widest = 0;
  std::vector<double> edges{0, tip};
  for (const Contact& contact : p.contacts) {
    edges.push_back(contact.radius);
    widest = std::max(widest, contact.radius);
  }
  for (const Sheet& sheet : p.sheets) {
    edges.push_back(sheet.radius);
    outer = std::max(outer, sheet.radius);
    if (!is_slit(p, sheet)) edges.push_back(sheet.rim_radius);
  }
  edges.push_back(outer);
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
    if (widest > tip) s.features.push_back({widest, widest * edge_share});
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
  const Contact& contact = p.under_tip();
  if (!contact.yields()) return contact.radius;
  const auto modulus = [](const MaterialPtr& m) { return m->elastic_modulus.value_or(0); };
  const double hardness = contact.hardness.value_or(std::min(
      p.electrode.material->hardness.value_or(1e12), p.top().material->hardness.value_or(1e12)));
  const double face =
      std::max(indentation_radius(p.pressing.force, hardness),
               hertz_radius(p.pressing.force, p.electrode.face_radius,
                            modulus(p.electrode.material), modulus(p.top().material)));
  return std::min(contact.radius, face);
}

void add_part(WeldModel& m, const std::string& name, Role role, const Material& material) {
  RegionLaw law;
  law.material = &material;
  law.table = std::make_unique<PropertyTable>(material);
  law.enthalpy = std::make_unique<Enthalpy>(material);
  law.carries_current = role != Role::layer;
  m.parts.push_back({name, role});
  m.laws.push_back(std::move(law));
}

void add_parts(const Problem& p, WeldModel& m) {
  m.parts.push_back({"empty", Role::empty});
  m.laws.emplace_back();
  m.electrode = electrode_region;
  add_part(m, "electrode", Role::electrode, *p.electrode.material);
  for (const Sheet& sheet : p.sheets)
    add_part(m, sheet.name, p.on_can && &sheet == &p.base() ? Role::can : Role::strip,
             *sheet.material);
  for (const InnerLayer& layer : p.inner) add_part(m, layer.name, Role::layer, *layer.material);
}

void add_sheets(const Problem& p, WeldModel& m) {
  const mesh::AxisymmetricGrid& grid = m.grid;
  const std::vector<double> heights = sheet_heights(p);
  for (std::size_t n = 0; n < p.sheets.size(); ++n) {
    const SheetRows rows{sheet_region(n), grid.row_edge(heights[n + 1]),
                         grid.row_edge(heights[n]) - 1};
    m.sheets.push_back(rows);
    m.planes.push_back(plane_at(grid, heights[n], p.contacts[n].radius));
    if (!is_slit(p, p.sheets[n]))
      m.rims.push_back({rows.lowest, rows.highest - rows.lowest + 1,
                        nearest_column_edge(grid, p.sheets[n].rim_radius)});
  }
  double z = heights.back();
  for (const InnerLayer& layer : p.inner) {
    m.layer_top_rows.push_back(grid.row_edge(z) - 1);
    z -= layer.thickness;
  }
  m.current_rows = {m.wall_row(), grid.nz() - m.wall_row()};
}

}  // namespace

GridSize grid_size(const Problem& p) {
  const double face = cold_face(p);
  return {mesh::graded_edges(radial_spacing(p, face)).size() - 1,
          mesh::graded_edges(axial_spacing(p, parts_of(p), face)).size() - 1};
}

WeldModel build_model(const Problem& p) {
  WeldModel m;
  add_parts(p, m);
  // Not the rod but the face over which its cold tip touches sets the hot spot's size.
  m.cold_face = cold_face(p);
  double widest = 0;
  for (const Contact& contact : p.contacts) widest = std::max(widest, contact.radius);
  const std::vector<mesh::Part> parts = parts_of(p);
  m.grid = mesh::AxisymmetricGrid(mesh::graded_edges(radial_spacing(p, m.cold_face)),
                                  mesh::graded_edges(axial_spacing(p, parts, m.cold_face)), parts,
                                  widest * (1 + 1e-6));
  add_sheets(p, m);
  return m;
}

}  // namespace tabmelt
