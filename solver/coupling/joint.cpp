#include "solver/coupling/joint.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tabmelt {

using Index = Eigen::Index;

double positive_area(const mesh::AxisymmetricGrid& grid, const std::vector<double>& v,
                     double largest_radius, double& hole) {
  hole = 0;
  if (v.empty()) return 0;
  const auto disc = [&](double r) {
    return mesh::AxisymmetricGrid::disc_area(std::min(r, largest_radius));
  };
  double area = 0, from = v[0] > 0 ? 0 : -1;
  bool seen = v[0] > 0;
  for (std::size_t i = 0; i + 1 < v.size(); ++i) {
    if ((v[i] > 0) == (v[i + 1] > 0)) continue;
    const double a = grid.r_centre(i), b = grid.r_centre(i + 1);
    const double crossing = a + (b - a) * v[i] / (v[i] - v[i + 1]);
    if (v[i + 1] > 0) {
      from = crossing;
      if (!seen) hole = crossing;
      seen = true;
    } else {
      area += disc(crossing) - disc(from);
      from = -1;
    }
  }
  if (from >= 0) area += disc(largest_radius) - disc(from);
  return area;
}

namespace {

// Height of melt in a column from row `first` on, going `up` or down, while cells stay at least
// half molten; reaches between cell centres by straight interpolation. `through` is set when the
// whole thickness is molten, its far surface included.
double melt_height(const WeldModel& m, const Surfaces& surfaces, const Field& T, std::size_t i,
                   std::size_t first, std::size_t last, bool& through) {
  const mesh::AxisymmetricGrid& grid = m.grid;
  const bool up = last >= first;
  const Enthalpy& law = *m.law(grid.index(i, first)).enthalpy;
  through = false;
  if (!law.melts()) return 0;
  const double limit = law.half_molten();
  const double start = up ? grid.z_edges()[first] : grid.z_edges()[first + 1];
  double z1 = start;
  double T1 = up ? surfaces.below(i, first) : surfaces.above(i, first);
  if (T1 < limit) return 0;
  const std::size_t rows = (up ? last - first : first - last) + 1;
  for (std::size_t n = 0; n <= rows; ++n) {
    const bool surface = n == rows;
    const std::size_t j = surface ? last : (up ? first + n : first - n);
    const double z2 =
        surface ? (up ? grid.z_edges()[last + 1] : grid.z_edges()[last]) : grid.z_centre(j);
    const double T2 = surface ? (up ? surfaces.above(i, last) : surfaces.below(i, last))
                              : T[static_cast<Index>(grid.index(i, j))];
    if (T2 < limit) return std::abs(z1 + (z2 - z1) * (T1 - limit) / (T1 - T2) - start);
    z1 = z2;
    T1 = T2;
  }
  through = true;
  return std::abs(z1 - start);
}

}  // namespace

JointMoment joint_moment(const WeldModel& m, std::size_t number, const Surfaces& surfaces,
                         const Field& T, double radius) {
  const mesh::AxisymmetricGrid& grid = m.grid;
  const ContactPlane& plane = m.joint(number);
  JointMoment joint;
  std::size_t columns = 0;
  while (columns < plane.columns && grid.r_edges()[columns] < radius * (1 - 1e-6)) ++columns;
  const std::size_t below = plane.below, above = below + 1;
  const RegionLaw &lower_law = m.sheet_law(number + 1), &upper_law = m.sheet_law(number);
  const auto softening = [](const RegionLaw& law) {
    return law.material->softening().value_or(std::numeric_limits<double>::infinity());
  };
  const auto melting = [](const RegionLaw& law) {
    return law.enthalpy->melts() ? law.enthalpy->half_molten() : 1e9;
  };
  const double lower_soft = softening(lower_law), upper_soft = softening(upper_law);
  const double lower_melt = melting(lower_law), upper_melt = melting(upper_law);
  for (std::size_t i = 0; i < columns; ++i) {
    const double lower = surfaces.above(i, below), upper = surfaces.below(i, above);
    joint.excess.molten.push_back(std::min(lower - lower_melt, upper - upper_melt));
    joint.excess.soft.push_back(std::min(lower - lower_soft, upper - upper_soft));
    const double colder = std::min(lower, upper);
    if (colder > joint.hottest) {
      joint.hottest = colder;
      joint.hottest_r = grid.r_centre(i);
    }
  }
  joint.molten_area = positive_area(grid, joint.excess.molten, radius, joint.hole_radius);
  for (std::size_t i = 0; i < columns; ++i) {
    bool through = false;
    const double up = melt_height(m, surfaces, T, i, above, m.sheets[number].highest, through);
    joint.melt_above = std::max(joint.melt_above, up);
    if (through) {
      joint.through = true;
      joint.through_radius = std::max(joint.through_radius, grid.r_edges()[i + 1]);
    }
    joint.melt_below =
        std::max(joint.melt_below,
                 melt_height(m, surfaces, T, i, below, m.sheets[number + 1].lowest, through));
  }
  return joint;
}

}  // namespace tabmelt
