#include "solver/finite_volume/diffusion.h"

#include <algorithm>
#include <limits>

namespace tabmelt {

void set_faces(const mesh::AxisymmetricGrid& grid, RowRange rows, const Field& k_radial,
               const Field& k_axial, FaceConductances& faces) {
  const std::size_t nr = grid.nr(), nz = rows.count, offset = rows.first * nr;
  faces.nr = nr;
  faces.nz = nz;
  const auto n = nr * nz;
  faces.radial.resize(n);
  faces.axial.resize(n);
  faces.boundary.setZero(n);
  // 1 / (inner / k1 + outer / k2) with one division; where either side does not conduct, or there
  // is no face (inner = outer = 0), it comes out as 0.
  const auto in_series = [](double inner, double outer, double k1, double k2) {
    const double both = inner * k2 + outer * k1;
    return both > 0 ? k1 * k2 / both : 0.0;
  };
  for (std::size_t j = 0; j < nz; ++j) {
    const std::size_t row = j * nr + offset;
    const double *kr = k_radial.data() + j * nr, *kz = k_axial.data() + j * nr;
    double* __restrict radial = faces.radial.data() + j * nr;
    for (std::size_t i = 0; i + 1 < nr; ++i)
      radial[i] =
          in_series(grid.radial_inner(row + i), grid.radial_outer(row + i), kr[i], kr[i + 1]);
    radial[nr - 1] = 0;
    double* __restrict axial = faces.axial.data() + j * nr;
    if (j + 1 == nz) {
      std::fill(axial, axial + nr, 0.0);
      break;
    }
    for (std::size_t i = 0; i < nr; ++i)
      axial[i] = in_series(grid.axial_inner(row + i), grid.axial_outer(row + i), kz[i], kz[i + nr]);
  }
}

ContactFace contact_face(const mesh::AxisymmetricGrid& grid, const ContactPlane& plane,
                         std::size_t column, double k_lower, double k_upper, double g,
                         double share) {
  ContactFace face;
  const std::size_t cell = grid.index(column, plane.below);
  const double area = plane.area[column] * share;
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

void apply_row(const FaceConductances& faces, const Field& x, std::size_t j, double* y) {
  const std::size_t nr = faces.nr, nz = faces.nz;
  // Each face's flow is computed the same way on both its sides, so that it cancels in the sum.
  // Beyond the first and last row a row stands in for its missing neighbour: no difference, no
  // flow.
  const double* own = x.data() + j * nr;
  const double *above = j + 1 < nz ? own + nr : own, *below = j > 0 ? own - nr : own;
  const double *up = faces.axial.data() + j * nr, *down = j > 0 ? up - nr : up;
  const double *radial = faces.radial.data() + j * nr, *boundary = faces.boundary.data() + j * nr;
  double* __restrict out = y;
  const auto across = [&](std::size_t i) {
    return boundary[i] * own[i] + up[i] * (own[i] - above[i]) - down[i] * (below[i] - own[i]);
  };
  if (nr == 1) {
    out[0] = across(0);
    return;
  }
  out[0] = across(0) + radial[0] * (own[0] - own[1]);
  for (std::size_t i = 1; i + 1 < nr; ++i)
    out[i] = across(i) + radial[i] * (own[i] - own[i + 1]) - radial[i - 1] * (own[i - 1] - own[i]);
  out[nr - 1] = across(nr - 1) - radial[nr - 2] * (own[nr - 2] - own[nr - 1]);
}

void apply(const FaceConductances& faces, const Field& x, Field& y) {
  y.resize(x.size());
  for (std::size_t j = 0; j < faces.nz; ++j) apply_row(faces, x, j, y.data() + j * faces.nr);
}

}  // namespace tabmelt
