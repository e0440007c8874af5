// One diffusion operator for current and for heat. For each cell
//
//   (A x)_c = sum over faces G_f (x_c - x_neighbour) + B_c x_c,     right side  B_c x_fixed
//
//   G_f  conductance of a face [S or W/K] = 1 / (inner/k1 + 1/(g A) + outer/k2)
//   k    conductivity of the two cells [S/m or W/m/K]
//   g    conductance per area of a touching surface [S/m^2 or W/m^2/K]; perfect contact without
//   B_c  conductance to a boundary held at a fixed value; 0 for most cells
//
// inner and outer come from the grid (mesh/axisymmetric_grid.h), which alone knows the radius.
// A cell of conductivity 0 neither gives nor takes. Harmonic face values make any steady layered
// problem exact at the cell centres (Patankar, Numerical Heat Transfer and Fluid Flow, 1980, 4.2).
#pragma once

#include <Eigen/Core>
#include <vector>

#include "mesh/axisymmetric_grid.h"

namespace tabmelt {

using Field = Eigen::ArrayXd;  // one number per cell, r fastest

// The part of a grid between two rows; current flows in an upper block only.
struct RowRange {
  std::size_t first = 0;
  std::size_t count = 0;
};

// A horizontal plane on which two parts touch: the faces between row `below` and the next one.
struct ContactPlane {
  std::size_t below = 0;          // row under the plane
  std::size_t columns = 0;        // faces 0..columns-1 may touch
  std::vector<double> area;       // [m^2] touching part of each face
  std::vector<double> open_area;  // [m^2] whole open area of each face
};

struct FaceConductances {
  std::size_t nr = 0, nz = 0;
  Field radial;    // face (i, j) to (i+1, j), at j * nr + i; 0 in the last column
  Field axial;     // face (i, j) to (i, j+1); 0 in the last row
  Field boundary;  // B
};

// Interior faces from the cells' conductivities (per direction) over the rows given; boundary is
// zeroed. Rows are numbered from range.first. Faces of a contact plane come out as if
// the parts were bonded there; the caller puts contact_face's conductance in their place.
void set_faces(const mesh::AxisymmetricGrid&, RowRange, const Field& k_radial, const Field& k_axial,
               FaceConductances&);

// Resistances in series of one face of a contact plane [K/W or ohm], lower side first; the contact
// itself is 1/(g A). Restricting the touching area also narrows the path through both half cells;
// so does a share below 1 of that area (edge_share.h).
struct ContactFace {
  double lower = 0;    // from the lower cell's centre to its surface
  double upper = 0;    // from the upper surface to the upper cell's centre
  double contact = 0;  // 1/(g A); infinite where nothing touches
  double conductance() const { return 1.0 / (lower + contact + upper); }
};
ContactFace contact_face(const mesh::AxisymmetricGrid&, const ContactPlane&, std::size_t column,
                         double k_lower, double k_upper, double g, double share = 1);

// y = A x (boundary part with fixed value 0 included), whole or one row of it.
void apply(const FaceConductances&, const Field& x, Field& y);
void apply_row(const FaceConductances&, const Field& x, std::size_t row, double* y);

}  // namespace tabmelt
