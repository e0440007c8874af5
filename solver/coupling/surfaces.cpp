#include "solver/coupling/surfaces.h"

#include <algorithm>
#include <cmath>

namespace tabmelt {

HeatShare contact_heat_share(const ContactFace& face, double q) {
  const double total = face.lower + face.contact + face.upper;
  if (!std::isfinite(total)) return {0.5 * q, 0.5 * q};
  return {0.5 * q * (face.contact + 2 * face.upper) / total,
          0.5 * q * (face.contact + 2 * face.lower) / total};
}

Surfaces::Surfaces(const WeldModel& model, const Field& T, const Field& k_axial,
                   const std::vector<PlaneHeat>& planes)
    : model_(&model), T_(&T), k_(&k_axial), planes_(&planes) {}

namespace {
// Value at an insulated wall: parabola of zero slope through two cells at distances d0 < d1.
double wall_value(double T0, double d0, double T1, double d1) {
  return (d1 * d1 * T0 - d0 * d0 * T1) / (d1 * d1 - d0 * d0);
}
}  // namespace

// A surface boils as its metal does.
double Surfaces::capped(std::size_t cell, double T) const {
  return std::min(T, model_->law(cell).enthalpy->boiling() + Enthalpy::boiling_width);
}

double Surfaces::surface(std::size_t i, std::size_t j, bool upper) const {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  const Field& T = *T_;
  const std::size_t cell = grid.index(i, j);
  // Indices wrap, so that the row below is one that lies -nr further.
  const std::size_t c = cell, outwards = upper ? grid.nr() : -grid.nr();
  const bool last = upper ? j + 1 == grid.nz() : j == 0;
  bool gap = last || grid.region(cell + outwards) == mesh::empty;
  for (std::size_t p = 0; p < model_->planes.size() && !last; ++p) {
    if (model_->planes[p].below != (upper ? j : j - 1)) continue;
    gap = true;  // beside what touches
    const PlaneHeat& plane = (*planes_)[p];
    if (i >= plane.faces.size()) continue;
    const ContactFace& face = plane.faces[i];
    const double total = face.lower + face.contact + face.upper;
    if (!std::isfinite(total)) return T[c];
    const HeatShare share = contact_heat_share(face, plane.heat[i]);
    const double flow = (T[c + outwards] - T[c]) / total + (upper ? share.lower : share.upper);
    return capped(cell, T[c] + flow * (upper ? face.lower : face.upper));
  }
  const bool innermost = upper ? j == 0 : j + 1 == grid.nz();
  const std::size_t inner_row = upper ? j - 1 : j + 1;
  if (gap) {
    if (innermost || grid.region(grid.index(i, inner_row)) != grid.region(cell)) return T[c];
    return wall_value(T[c], 0.5 * grid.dz(j), T[c - outwards],
                      grid.dz(j) + 0.5 * grid.dz(inner_row));
  }
  const double own = (*k_)[c] / grid.dz(j);
  const double other = (*k_)[c + outwards] / grid.dz(upper ? j + 1 : j - 1);
  return (own * T[c] + other * T[c + outwards]) / (own + other);
}

double Surfaces::column_value(std::size_t i, double z, std::uint8_t region) const {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  // Rows of this region in this column are contiguous.
  std::size_t first = grid.nz(), last = 0;
  for (std::size_t j = 0; j < grid.nz(); ++j) {
    if (grid.region(grid.index(i, j)) != region) continue;
    first = std::min(first, j);
    last = std::max(last, j);
  }
  if (first > last) return 0;
  double z1 = grid.z_edges()[first], T1 = below(i, first);
  if (z <= z1) return T1;
  for (std::size_t j = first; j <= last + 1; ++j) {
    const bool surface = j > last;
    const double z2 = surface ? grid.z_edges()[last + 1] : grid.z_centre(j);
    const double T2 = surface ? above(i, last) : (*T_)[grid.index(i, j)];
    if (z <= z2) return T1 + (T2 - T1) * (z - z1) / (z2 - z1);
    z1 = z2;
    T1 = T2;
  }
  return T1;
}

double Surfaces::at(double r, double z, std::uint8_t region) const {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  const std::size_t row = [&] {
    for (std::size_t j = grid.nz(); j-- > 0;)
      if (grid.region(grid.index(0, j)) == region && z >= grid.z_edges()[j] - 1e-12) return j;
    return grid.row_at(z);
  }();
  // Interpolates in r^2 between neighbouring columns: exact for the regular field at the axis.
  std::size_t i = 0;
  while (i + 2 < grid.nr() && r > grid.r_centre(i + 1) &&
         grid.region(grid.index(i + 2, row)) == region)
    ++i;
  if (i + 1 >= grid.nr() || grid.region(grid.index(i + 1, row)) != region)
    return column_value(i, z, region);
  const double a = grid.r_centre(i), b = grid.r_centre(i + 1);
  const double s = (r * r - a * a) / (b * b - a * a);
  const double limited = std::min(s, 1.0);
  const double T1 = column_value(i, z, region), T2 = column_value(i + 1, z, region);
  return T1 + limited * (T2 - T1);
}

}  // namespace tabmelt
