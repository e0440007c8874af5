#include "solver/coupling/under_tip.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/material/constants.h"

namespace tabmelt {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

double half_molten(const RegionLaw& law) {
  return law.enthalpy->melts() ? law.enthalpy->half_molten() : -never;
}

double flow_stress(const RegionLaw& law, double T) {
  double stress = law.material->tensile_strength.value_or(infinity);
  if (law.material->hardness) stress = std::min(stress, law.table->hardness(T) / 3);
  if (!std::isfinite(stress)) return infinity;
  return law.enthalpy->melts() ? stress * (1 - law.enthalpy->liquid_fraction(T)) : stress;
}

}  // namespace

UnderTip under_tip(const WeldModel& m, const Surfaces& surfaces, const Field& T,
                   double touching_radius) {
  const mesh::AxisymmetricGrid& grid = m.grid;
  const std::size_t top = m.sheets.front().highest;
  const double sheet_melts = half_molten(m.sheet_law(0));
  const double tip_melts = half_molten(m.laws[m.electrode]);
  UnderTip out;
  for (std::size_t i = 0; i < m.joint(0).columns; ++i) {
    const double upper = surfaces.above(i, top);
    const bool touches = i < m.planes.front().columns && grid.r_centre(i) < touching_radius;
    out.sticking.push_back(
        touches ? std::max(upper - sheet_melts, surfaces.below(i, top + 1) - tip_melts) : never);
  }
  out.through = molten_through(m, surfaces, T, 0, m.joint(0).columns);
  return out;
}

double WallLoad::sinking() const {
  constexpr double rate = 100, sensitivity = 0.13;  // [1/s], [1]
  return std::sqrt(3.0) * rate * std::pow(used, 1 / sensitivity);
}

WallLoad wall_load(const WeldModel& m, const Field& T, double force, double face_radius) {
  const mesh::AxisymmetricGrid& grid = m.grid;
  WallLoad worst;
  const RegionLaw& wall = m.sheet_law(m.joints());
  if (!std::isfinite(flow_stress(wall, 293.15)) || force <= 0 || face_radius <= 0) return worst;
  const double pressed_radius = face_radius + 0.5 * (grid.z_edges()[m.sheets.front().highest + 1] -
                                                     grid.z_edges()[m.wall_row()]);
  for (std::size_t i = 0; i < grid.nr(); ++i) {
    const double r = grid.r_centre(i);
    double strength = 0;  // [N/m]
    for (std::size_t n = m.sheets.size(); n-- > 0;)
      for (std::size_t row = m.sheets[n].lowest; row <= m.sheets[n].highest; ++row)
        strength += flow_stress(m.sheet_law(n), T[grid.index(i, row)]) * grid.dz(row);
    strength /= std::sqrt(3.0);
    const double share = std::min(1.0, r * r / (pressed_radius * pressed_radius));
    // A wall molten through bears nothing; a finite number still says so.
    const double used =
        std::min(10.0, force * share / std::max(2 * constants::pi * r * strength, 1e-12));
    if (used > worst.used) worst = {used, r};
    if (r > 2 * pressed_radius) break;
  }
  return worst;
}

double band_beyond(const mesh::AxisymmetricGrid& grid, const std::vector<double>& v,
                   double radius) {
  double widest = 0, from = -1;
  for (std::size_t i = 0; i < v.size(); ++i) {
    const double r = grid.r_centre(i);
    const auto crossing = [&] {
      return i == 0
                 ? 0
                 : grid.r_centre(i - 1) + (r - grid.r_centre(i - 1)) * v[i - 1] / (v[i - 1] - v[i]);
    };
    if (v[i] > 0 && from < 0) from = std::max(crossing(), radius);
    if (v[i] <= 0 && from >= 0) {
      widest = std::max(widest, crossing() - from);
      from = -1;
    }
  }
  if (from >= 0) widest = std::max(widest, grid.r_edges()[v.size()] - from);
  return widest;
}

}  // namespace tabmelt
