// One coupled step: circuit, contacts, current and heat over [t, t + dt].
//
//   1. temperatures half a step ahead, by extrapolation (second order)
//   2. conductivities there; then until the load resistance settles:
//        current density of each touching face from the last current field
//        -> conductance of each face (contact/contact.h)
//        -> current field (electric_potential/potential.h) -> load resistance
//   3. the circuit over the whole step with that load (circuit/loop.h): int i^2 dt
//   4. Joule heat of the step, exactly that energy, into the cells; one implicit heat step
//
// Nothing is changed by an attempt; accept() makes it the present state.
#pragma once

#include <vector>

#include "solver/circuit/loop.h"
#include "solver/coupling/surfaces.h"
#include "solver/coupling/weld_model.h"
#include "solver/heat_conduction/heat_step.h"

namespace tabmelt {

struct WeldState {
  circuit::LoopState loop;
  Field H;                                         // [J/m^3]
  Field T;                                         // [K]
  Field rate;                                      // dH/dt at the end of the last step [W/m^3]
  Field earlier_rate;                              // the same one step before
  Field heat;                                      // [W] released in each cell during the last step
  double last_step = 0;                            // [s] 0: no history (start, switching)
  std::vector<std::vector<ContactMemory>> memory;  // per plane, per face
  std::vector<PlaneHeat> planes;  // thermal side of the touching planes during the last step
  double resistance = 0;          // [ohm] of one spot, 0 unknown
  double indentation = 0;         // [m] radius of a domed tip's indentation so far
};

struct StepAttempt {
  bool solved = false;
  bool settled = true;  // contacts and current field agreed within the coupling tolerance
  double dt = 0;
  WeldState state;
  double error = 0;                        // [1] estimate, see step_control.h
  double resistance_change = 0;            // [1] relative, against the last step
  circuit::StepEnergy energy;              // whole loop
  double force = 0;                        // [N]
  double spot_energy = 0;                  // [J] delivered to one spot
  double expelled = 0;                     // [J] of it, by burst bridges and boiling
  std::vector<double> boiled_off;          // [J] per region, what boiling carried away
  double conducted_out = 0;                // [J]
  Field part_heat;                         // [W/A^2] bulk heat per cell, contacts excluded
  std::vector<double> contact_energy;      // [J] per plane, reaching the metal
  std::vector<double> contact_resistance;  // [ohm] per plane
  std::vector<double> contact_voltage;     // [V] per plane, largest local
  std::vector<double> contact_radius;      // [m] per plane, touching now
  std::vector<std::size_t> voltage_face;   // where it is
  std::vector<double> true_area;           // [m^2] per plane
  std::vector<double> spot_temperature;    // [K] hottest contact spot per plane
  double can_share = 0;
  int coupling_iterations = 0, linear_iterations = 0, newton_iterations = 0;
};

class PulseStep {
 public:
  PulseStep(const Problem&, const WeldModel&, const circuit::Loop&);

  WeldState initial_state() const;
  StepAttempt attempt(const WeldState&, double dt);

  // For pictures: potential [V] and current density [A/m^2] at the last attempt's resistance.
  const Potential& potential() const { return potential_; }
  const Field& sigma() const { return sigma_; }
  const Field& k_axial() const { return k_axial_; }
  const std::vector<ContactModel>& contacts() const { return contacts_; }
  const HeatStep& heat_step() const { return heat_step_; }

 private:
  void conductivities(const Field& T);
  double force_at(double time, double current) const;
  struct FaceAnswers {
    std::vector<ContactAnswer> answer;  // per face
    std::vector<double> share;          // [1] of the face that touches
  };
  // What touches under a domed tip with this indentation [m].
  void touch(double indentation);
  void face_answers(const WeldState&, const Field& T_middle, double current, double force,
                    bool first, std::vector<FaceAnswers>&) const;
  // Thermal resistances and heat of the planes for the next round's surface temperatures.
  void settle_planes(const std::vector<FaceAnswers>&, double square_current);
  // Metal cannot hold more heat than its full vaporisation takes; what comes on top leaves as
  // vapour and sparks.
  void boil_off(StepAttempt&) const;
  double covered(std::size_t plane, std::size_t column, double radius) const;

  const Problem* problem_;
  const WeldModel* model_;
  const circuit::Loop* loop_;
  std::vector<ContactModel> contacts_;
  Potential potential_;
  HeatStep heat_step_;
  FaceConductances thermal_;
  Field k_axial_, k_radial_, sigma_;
  Field cold_capacity_;                 // [J/K] of each cell, for the error norm
  double negligible_rise_ = 0;          // [J K] of the joint, likewise
  std::vector<PlaneHeat> planes_;       // of the round at hand
  std::vector<double> contact_radius_;  // [m] touching now
  bool single_spot_ = false;            // a domed tip under the constriction law
  double cold_indentation_ = 0;         // [m] its radius under full force
  bool fixed_contacts_ = false;
};

}  // namespace tabmelt
