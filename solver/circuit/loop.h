// Advances the pulse circuit over one time step with the load held constant: exact solution of
// the linear loop, so the only time error is that of the load's change within the step.
//
// Capacitor bank, u = v - U_b sign(i) (U_b: constant back voltage of the load, e.g. a burst
// bridge), R = R_loop + R_load:
//   L u'' C + R C u' + u = 0             under-, over- and critically damped forms
//   L = 0:  i = u / R,  u = u0 exp(-t/(R C))
// Battery:  L di/dt + R i = V_oc - U_b.
// Energy over the step follows from the first law, exact to round-off:
//   R * int i^2 dt = C (u0^2 - u1^2)/2 + L (i0^2 - i1^2)/2        (bank)
#pragma once

#include <vector>

#include "solver/circuit/circuit.h"

namespace tabmelt::circuit {

// Resistance and inductance of the parts of the loop, computed once.
struct LoopElements {
  double source_resistance = 0;  // [ohm] ESR or internal resistance of the whole source
  double lead_resistance = 0;    // [ohm]
  double joint_resistance = 0;   // [ohm] joints and extra resistance
  double switch_resistance = 0;  // [ohm]
  double inductance = 0;         // [H]
  double total_resistance() const {
    return source_resistance + lead_resistance + joint_resistance + switch_resistance;
  }
};

LoopElements elements(const Circuit&);

// Two-wire line, uniform current (low frequency), non-magnetic, length >> spacing:
//   L = (mu0/pi) length (ln(D/a) + 1/4)    a wire radius, D axis spacing >= 2 a   [H]
// Grover, Inductance Calculations (1946); exact mutual distance of two discs.
double two_wire_inductance(double length, double cross_section, double spacing);
// Maximum resistance of a flexible copper conductor at 20 C, IEC 60228 class 5 [ohm/m]; between
// and beyond the nominal sizes the table's R*A is interpolated.
double copper_lead_resistance_per_metre(double cross_section);

struct LoopState {
  double time = 0;            // [s]
  double source_voltage = 0;  // [V] behind the internal resistance
  double current = 0;         // [A]
  bool closed = false;        // the switch conducts
};

// Energies of one step [J]; those of the resistances share int i^2 dt.
struct StepEnergy {
  double square_current = 0;  // int i^2 dt [A^2 s]
  double charge = 0;          // int i dt [A s]
  double from_source = 0;     // given up by the store, before internal losses
  double in_source = 0;       // lost in ESR or internal resistance
  double in_leads = 0;
  double in_joints = 0;
  double in_switch = 0;
  double in_load_resistance = 0;  // R_load * int i^2 dt
  double in_back_voltage = 0;     // U_b * int |i| dt
  double to_inductance = 0;       // change of L i^2 / 2
};

struct StepOutcome {
  LoopState state;
  StepEnergy energy;
};

class Loop {
 public:
  explicit Loop(Circuit circuit);

  const Circuit& circuit() const { return circuit_; }
  const LoopElements& elements() const { return elements_; }
  bool current_is_prescribed() const;

  // Before the first closing: charged, no current.
  LoopState initial_state() const;
  // One step of length dt > 0 that crosses no event time; the switch is in state.closed.
  // load_resistance [ohm] >= 0 and back_voltage [V] >= 0 are those of the whole load.
  StepOutcome advance(const LoopState&, double dt, double load_resistance,
                      double back_voltage = 0) const;
  // Closing and opening are instantaneous. Opening returns the energy L i^2/2 [J] dumped in the
  // switch through `dumped`.
  LoopState close_switch(LoopState) const;
  LoopState open_switch(LoopState, double& dumped) const;

  // Times [s] at which the switch changes or a current table has a kink, increasing; a step must
  // not cross one. The first is t = 0 (closing).
  std::vector<double> event_times() const;
  bool conducts_at(double time) const;  // just after this time
  double end_of_train() const;          // [s] infinity if the switch never opens

  // Energy still in the store [J]; infinite sources give 0.
  double stored_energy(const LoopState&) const;

 private:
  Circuit circuit_;
  LoopElements elements_;
};

}  // namespace tabmelt::circuit
