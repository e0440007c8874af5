// Two bodies that meet in the plane z = 0 and touch there over the disc r <= b, on a grid whose
// columns are even about the edge: what the tests of a contact's edge share.
#pragma once

#include <vector>

#include "mesh/axisymmetric_grid.h"
#include "solver/finite_volume/diffusion.h"
#include "solver/finite_volume/edge_share.h"

namespace tabmelt {

// One length is 1: discs are about as wide.
struct Halves {
  double k_lower = 1, k_upper = 1;
  double g = 1e12;                    // conductance of the contact per area
  int cells = 10;                     // columns over 1
  double dz_lower = 1, dz_upper = 1;  // [1] first row's height over a column's width
  double lower = 0, upper = 0;        // heights of slabs; 0: half-spaces
  double growth = 0.08;               // of cells away from the disc, at 10 columns over 1
  bool rod = false;                   // the upper body is a rod of radius 1
};

class TouchingHalves {
 public:
  explicit TouchingHalves(const Halves&);

  // Between the far sides of the two bodies. `sharp`: with the edge's share; otherwise the edge
  // column conducts over its covered area, as a scheme without a thought for the edge would.
  double resistance(double b, bool sharp = true) const;

  const mesh::AxisymmetricGrid& grid() const { return grid_; }
  const ContactPlane& plane() const { return plane_; }
  const Field& conductivity() const { return k_; }
  EdgeShare edge(double b) const;
  // With the contact of radius b in place.
  FaceConductances faces(double b, bool sharp = true) const;

 private:
  Halves halves_;
  mesh::AxisymmetricGrid grid_;
  ContactPlane plane_;
  Field k_;
};

// b from 1 on through three columns.
std::vector<double> sweep_through_columns(int cells, int steps = 24);

}  // namespace tabmelt
