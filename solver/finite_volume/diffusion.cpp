#include "solver/finite_volume/diffusion.h"

#include <limits>

namespace tabmelt {

using Index = Eigen::Index;

void set_faces(const mesh::AxisymmetricGrid& grid, RowRange rows, const Field& k_radial,
               const Field& k_axial, FaceConductances& faces) {
  const std::size_t nr = grid.nr(), nz = rows.count, offset = rows.first * nr;
  faces.nr = nr;
  faces.nz = nz;
  const auto n = static_cast<Index>(nr * nz);
  faces.radial.setZero(n);
  faces.axial.setZero(n);
  faces.boundary.setZero(n);
  for (std::size_t j = 0; j < nz; ++j) {
    for (std::size_t i = 0; i < nr; ++i) {
      const std::size_t cell = j * nr + i, on_grid = cell + offset;
      const auto c = static_cast<Index>(cell);
      if (i + 1 < nr && grid.radial_area(on_grid) > 0) {
        const double k1 = k_radial[c], k2 = k_radial[c + 1];
        if (k1 > 0 && k2 > 0)
          faces.radial[c] =
              1.0 / (grid.radial_inner(on_grid) / k1 + grid.radial_outer(on_grid) / k2);
      }
      if (j + 1 < nz && grid.axial_area(on_grid) > 0) {
        const double k1 = k_axial[c], k2 = k_axial[c + static_cast<Index>(nr)];
        if (k1 > 0 && k2 > 0)
          faces.axial[c] = 1.0 / (grid.axial_inner(on_grid) / k1 + grid.axial_outer(on_grid) / k2);
      }
    }
  }
}

ContactFace contact_face(const mesh::AxisymmetricGrid& grid, const ContactPlane& plane,
                         std::size_t column, double k_lower, double k_upper, double g) {
  ContactFace face;
  const std::size_t cell = grid.index(column, plane.below);
  const double area = plane.area[column];
  if (area <= 0 || g <= 0) {
    face.contact = std::numeric_limits<double>::infinity();
    return face;
  }
  const double narrowing = plane.open_area[column] / area;
  face.lower = grid.axial_inner(cell) * narrowing / k_lower;
  face.upper = grid.axial_outer(cell) * narrowing / k_upper;
  face.contact = 1.0 / (g * area);
  return face;
}

void apply(const FaceConductances& faces, const Field& x, Field& y) {
  const auto nr = static_cast<Index>(faces.nr), nz = static_cast<Index>(faces.nz);
  y = faces.boundary * x;
  for (Index j = 0; j < nz; ++j) {
    const double *own = x.data() + j * nr, *radial = faces.radial.data() + j * nr;
    double* __restrict out = y.data() + j * nr;
    // Each face's flow is computed the same way on both its sides, so that it cancels in the sum.
    for (Index i = 0; i + 1 < nr; ++i) out[i] += radial[i] * (own[i] - own[i + 1]);
    for (Index i = 1; i < nr; ++i) out[i] -= radial[i - 1] * (own[i - 1] - own[i]);
    if (j + 1 < nz) {
      const double *above = own + nr, *axial = faces.axial.data() + j * nr;
      for (Index i = 0; i < nr; ++i) out[i] += axial[i] * (own[i] - above[i]);
    }
    if (j > 0) {
      const double *below = own - nr, *axial = faces.axial.data() + (j - 1) * nr;
      for (Index i = 0; i < nr; ++i) out[i] -= axial[i] * (below[i] - own[i]);
    }
  }
}

}  // namespace tabmelt
