// One electrode with what lies under it: its fields, its contacts and what they remember. Given
// the current of the loop and the force of its tip it answers with its resistance, then takes the
// Joule heat of the step.
//
//   begin    temperatures half a step ahead, by extrapolation (second order); conductivities there
//   round    current density of each touching face from the last current field
//            -> conductance of each face (contact/contact.h)
//            -> current field (electric_potential/potential.h) -> resistance
//   finish   Joule heat of the step, exactly R int i^2 dt, into the cells; one implicit heat step
//
// An attempt leaves the state it began from as it is.
#pragma once

#include <cmath>
#include <vector>

#include "solver/coupling/spot_contacts.h"
#include "solver/heat_conduction/heat_step.h"

namespace tabmelt {

struct SpotState {
  Field H;             // [J/m^3]
  Field T;             // [K]
  Field rate;          // dH/dt at the end of the last step [W/m^3]
  Field earlier_rate;  // the same one step before
  Field heat;          // [W] released in each cell during the last step
  ContactState contact;
  double resistance = 0;  // [ohm] 0 unknown
};

// What one attempt of a step did at one touching plane.
struct ContactStep {
  double energy = 0;             // [J] reaching the metal
  double resistance = 0;         // [ohm]
  double voltage = 0;            // [V] largest local
  std::size_t voltage_face = 0;  // where it is
  double radius = 0;             // [m] touching now
  double true_area = 0;          // [m^2]
  double burst_share = 0;        // [1] of its current, through burst bridges
};

// What one attempt of a step did to one spot.
struct SpotStep {
  double error = 0;                   // [1] estimate, see step_control.h
  double resistance_change = 0;       // [1] relative, against the last step
  bool touches = true;                // the tip is on the strip
  double force = 0;                   // [N] after blow-off
  double energy = 0;                  // [J] delivered
  double expelled = 0;                // [J] of it, by burst bridges and boiling
  std::vector<double> boiled_off;     // [J] per region, what boiling carried away
  double conducted_out = 0;           // [J]
  std::vector<ContactStep> contacts;  // per plane
  double base_share = 0;              // [1] of the current, that reaches the lowest sheet
  int linear_iterations = 0, newton_iterations = 0;
};

class Spot {
 public:
  Spot(const Problem&, const WeldModel&);

  SpotState initial_state() const;
  // The tip was pressed down with this force [N] before any current: contacts remember it.
  void press(SpotState&, double force);

  void begin(const SpotState&, double dt);
  // `force` [N] without blow-off; `square_current` [A^2] mean over the step. Returns false if the
  // current field does not converge. `weight`: see coupling/spot_contacts.h.
  bool round(double force, double current, bool first, double weight);
  // The current field of the last round in full accuracy, and its heat. Returns false if it does
  // not converge.
  bool conclude_rounds();
  double resistance() const { return resistance_; }  // [ohm] after the last round
  double change() const { return change_; }          // [1] relative, by the last round
  bool growing() const { return contacts_.growing(); }
  // Instead of rounds, while no current flows.
  void rest(bool touches, double force);
  // last_step [s]: length of the step before, 0 without history. The square of the current is
  // square_current (1 + tilt (t/dt - 1/2)) within the step. `next` comes with the contacts and
  // the resistance of the state; its fields may hold anything. Returns false if the heat step does
  // not converge.
  bool finish(const SpotState&, double dt, double last_step, bool flows, double square_current,
              double tilt, SpotState& next, SpotStep&);

  bool fixed_contacts() const { return contacts_.fixed(); }
  // For pictures: potential [V] and current density [A/m^2] at the last attempt's resistance.
  const Potential& potential() const { return potential_; }
  const Field& sigma() const { return sigma_; }
  const Field& k_axial() const { return k_axial_; }
  const HeatStep& heat_step() const { return heat_step_; }

 private:
  void conductivities(std::size_t row, const Field& T);
  bool solve_potential(double tolerance);
  // Heat and thermal side of the touching planes. Returns the power expelled there [W].
  double plane_heat(bool flows, double square_current, double dt, SpotState& next, SpotStep&);
  void outer_boundaries();
  // Metal cannot hold more heat than its full vaporisation takes; what comes on top leaves as
  // vapour and sparks.
  void boil_off(std::size_t row, SpotState& next, SpotStep&) const;
  // The estimate of step_control.h, from the boiled-off state.
  double finish_cells(const SpotState&, double dt, double last_step, SpotState& next, SpotStep&);

  const Problem* problem_;
  const WeldModel* model_;
  SpotContacts contacts_;
  Potential potential_;
  HeatStep heat_step_;
  FaceConductances thermal_;
  Field k_axial_, k_radial_, sigma_;
  Field T_middle_;                      // [K] of the attempt at hand
  Field cold_capacity_;                 // [J/K] of each cell, for the error norm
  double negligible_rise_ = 0;          // [J K] of the joint, likewise
  double lowest_boiled_ = INFINITY;     // [K] at which the first of the metals has boiled away
  std::vector<double> row_H_, row_T_;   // scratch, one grid row
  std::vector<std::vector<double>> g_;  // [S/m^2] per plane and face, of the last round
  std::vector<EdgeShare> edges_;        // per plane, likewise
  double resistance_ = 0, change_ = 0, base_share_ = 0, force_ = 0;
  bool touches_ = true;
  int linear_iterations_ = 0;
};

}  // namespace tabmelt
