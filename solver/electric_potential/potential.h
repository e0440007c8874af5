// Current flow in electrode and sheets at one moment:
//
//   div(sigma grad phi) = 0,   J = -sigma grad phi
//
//   phi    potential [V], 0 at the grounded rims of the sheets
//   sigma  1 / resistivity [S/m]
//   top    uniform current density over the electrode's upper end; all else insulated
//   touching surfaces: conductance per area g [S/m^2]
//
// The potential is kept as one level for each body, between the planes, and what deviates from it.
// A contact 1e11 times as poor as metal lifts the whole body above by so much that the small drops
// within it, which carry the current, would be lost in the last digits of a sum. The levels balance
// the currents that enter and leave each body, before the linear solve and after it. With those in
// place the current through a poor contact is given, and hardly any way remains in which deviations
// on its two sides could feel each other. The linear solve may take such a contact to conduct more
// than it does; what this drives too much comes off in the next pass.
//
// Everything is per ampere of spot current: phi and voltages scale with I, heat with I^2. Joule
// heat comes from the discrete currents, face by face (G dphi^2, shared by the resistances on the
// two sides of the face), so that its sum equals U I as exactly as the potential is solved
// (Tellegen's theorem); a cell-centred sigma |E|^2 would not. About a contact's edge the split
// between contact and metal is that of edge_share.h.
#pragma once

#include <limits>
#include <vector>

#include "solver/finite_volume/diffusion.h"
#include "solver/finite_volume/edge_share.h"
#include "solver/finite_volume/line_multigrid.h"

namespace tabmelt {

// A grounded rim: the outer faces of the rows of one sheet at a column edge.
struct GroundedRim {
  std::size_t first_row = 0, rows = 0;  // on the whole grid
  std::size_t column_edge = 0;          // ground is the outer face of column_edge - 1
};

// What the current does at one touching plane, per ampere.
struct ContactCurrent {
  std::vector<double> current;  // [A/A] through each face, downwards
  std::vector<double> voltage;  // [V/A] over the contact itself
  std::vector<double> heat;     // [W/A^2] generated in the contact
};

struct PotentialOutcome {
  double resistance = 0;  // [ohm] mean potential of the upper end per ampere
  double base_share = 0;  // [1] current through the lowest touching plane; 0 without one
  int iterations = 0;
  bool converged = false;
};

class Potential {
 public:
  // rows: those that carry current, up to the top row. Planes are listed from the top down.
  Potential(const mesh::AxisymmetricGrid&, RowRange rows, std::vector<ContactPlane> planes,
            std::vector<GroundedRim> rims);

  // sigma per cell of the row range (0 where no current can flow), g per plane and face, the edge
  // of each plane's contact.
  PotentialOutcome solve(const Field& sigma, const std::vector<std::vector<double>>& g,
                         const std::vector<EdgeShare>& edges, double relative_tolerance,
                         int limit = 200);
  // Contacts that end where their columns do.
  PotentialOutcome solve(const Field& sigma, const std::vector<std::vector<double>>& g,
                         double relative_tolerance, int limit = 200) {
    return solve(sigma, g, std::vector<EdgeShare>(planes_.size(), EdgeShare::none()),
                 relative_tolerance, limit);
  }

  // Heat of the field last solved for, cell by cell. Returns the sum of all, contacts included
  // [W/A^2]; it equals the resistance to the accuracy of the solve.
  double find_heat();

  const Field& potential() const { return phi_; }  // [V/A] per cell of the row range
  // What find_heat() found last [W/A^2], per cell, contacts excluded.
  const Field& bulk_heat() const { return heat_; }
  const std::vector<ContactCurrent>& contacts() const { return contacts_; }
  RowRange rows() const { return rows_; }
  // Mean current density of each cell per ampere, (J_r, J_z) interleaved [A/m^2/A].
  std::vector<double> current_density() const;

 private:
  const mesh::AxisymmetricGrid* grid_;
  RowRange rows_;
  std::vector<ContactPlane> planes_;
  std::vector<GroundedRim> rims_;
  Field allowed_;  // 1 where a cell lies inside its sheet's rim, 0 beyond
  FaceConductances faces_;
  LineMultigrid linear_;
  // One between two planes, the uppermost first.
  struct Body {
    double level = 0;    // [V/A]
    double surplus = 0;  // [A/A] that enters and does not leave
    double link = 0;     // [S] of the plane below
    double ground = 0;   // [S]
  };
  void balance_levels();
  // Raises a plane's conductances in faces_ until the linear solver can deal with them.
  void strengthen(std::size_t plane);
  // What the deviations are driven by: the current fed in, less what the levels alone drive; and
  // what the last solution would still change in it [A/A].
  void drive_deviation();
  double missing_drive() const;
  // Levels and deviations in turns. Returns false if they do not settle.
  bool make_passes(double relative_tolerance, int limit, int& iterations);
  // True conductances again; whether any was raised.
  bool release_planes();
  double rise(std::size_t from, std::size_t to) const;  // [V/A]
  // visit(lower, upper, true conductance) each face that conducts; visit(body, cell) each cell
  // beside a grounded rim.
  template <typename Visit>
  void visit_plane(std::size_t plane, Visit visit) const;
  template <typename Visit>
  void visit_ground(Visit visit) const;
  void take_sigma(const Field& sigma);
  void pass_contacts(PotentialOutcome&);
  void share_edge_heat(std::size_t plane);

  Field phi_, deviation_, driven_, heat_, right_, none_, asked_sigma_, sigma_;
  std::vector<Body> bodies_;
  std::vector<std::size_t> body_of_row_;
  std::vector<double> strengthened_;              // [1] per plane, factor in faces_
  std::vector<std::vector<double>> extra_drive_;  // [A/A] per plane and conducting face
  std::vector<RowRange> touching_rows_;           // of the row range: the two rows at each plane
  std::vector<ContactCurrent> contacts_;
  std::vector<std::vector<ContactFace>> contact_faces_;
  std::vector<EdgeShare> edges_;
  std::vector<std::vector<double>> metal_heat_;  // [W/A^2] of the half cells beside each face
};

}  // namespace tabmelt
