#include "solver/coupling/joint.h"

#include <algorithm>
#include <cmath>

#include "mesh/front.h"

namespace tabmelt {

namespace {

// Height of melt in a column from row `first` on, going `up` or down, while cells stay at least
// half molten; reaches between cell centres by straight interpolation.
double melt_height(const WeldModel& m, const Surfaces& surfaces, const Field& T, std::size_t i,
                   std::size_t first, std::size_t last) {
  const mesh::AxisymmetricGrid& grid = m.grid;
  const bool up = last >= first;
  const Enthalpy& law = *m.law(grid.index(i, first)).enthalpy;
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
    const double T2 =
        surface ? (up ? surfaces.above(i, last) : surfaces.below(i, last)) : T[grid.index(i, j)];
    if (T2 < limit) return std::abs(z1 + (z2 - z1) * (T1 - limit) / (T1 - T2) - start);
    z1 = z2;
    T1 = T2;
  }
  return std::abs(z1 - start);
}

}  // namespace

std::vector<double> molten_through(const WeldModel& m, const Surfaces& surfaces, const Field& T,
                                   std::size_t sheet, std::size_t columns) {
  const mesh::AxisymmetricGrid& grid = m.grid;
  const std::size_t top = m.sheets[sheet].highest, bottom = m.sheets[sheet].lowest;
  const Enthalpy& law = *m.sheet_law(sheet).enthalpy;
  std::vector<double> excess(columns, never);
  if (!law.melts()) return excess;
  for (std::size_t i = 0; i < columns; ++i) {
    double coldest = std::min(surfaces.above(i, top), surfaces.below(i, bottom));
    for (std::size_t row = bottom; row <= top; ++row)
      coldest = std::min(coldest, T[grid.index(i, row)]);
    excess[i] = coldest - law.half_molten();
  }
  return excess;
}

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
    return law.material->softening().value_or(-never);
  };
  const auto melting = [](const RegionLaw& law) {
    return law.enthalpy->melts() ? law.enthalpy->half_molten() : -never;
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
  const mesh::PositiveRings molten = mesh::positive_rings(grid, joint.excess.molten, radius);
  joint.molten_area = molten.area;
  joint.hole_radius = molten.hole;
  for (std::size_t i = 0; i < columns; ++i) {
    joint.melt_above =
        std::max(joint.melt_above, melt_height(m, surfaces, T, i, above, m.sheets[number].highest));
    joint.melt_below = std::max(joint.melt_below,
                                melt_height(m, surfaces, T, i, below, m.sheets[number + 1].lowest));
  }
  joint.through_radius =
      mesh::positive_rings(grid, molten_through(m, surfaces, T, number, columns), radius).outer;
  return joint;
}

}  // namespace tabmelt
