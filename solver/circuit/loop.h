// Advances the pulse circuit over one time step with the load held constant: exact solution of the
// loop, so the only time error is that of the load's change within the step. The equations stand in
// circuit/stepper.h.
//
// A battery with a cut-off opens once the current has been at or above it for its delay, wherever
// in the step that is; L i^2/2 is then booked in the source. A bench supply in its current limit
// holds i = I_lim with whatever voltage that takes; its output capacitor adds a first surge. A
// thyristor sets its forward drop against the current, books it in the switch, lets nothing flow
// unless the source overcomes it, and stays off once the current has come to zero.
//
// Energy of one step, each part accurate by itself, also for very short steps:
//   from_source = R int i^2 dt + U int |i| dt + L (i1^2 - i0^2)/2
//   with from_source = C (v0^2 - v1^2)/2 (bank), V_oc int i dt (battery), int v i dt (supply)
//
//   R  whole loop with load [ohm]     U  forward drop [V]     L  inductance [H]     i  current [A]
//   v  source voltage behind its internal resistance [V]      C  capacitance [F]
//
// A prescribed current flows through whatever the circuit lists; its source supplies the voltage
// this takes. Inductance plays no part in it: it is taken as zero.
#pragma once

#include <optional>
#include <vector>

#include "solver/circuit/circuit.h"
#include "solver/circuit/conductors.h"

namespace tabmelt::circuit {

// Resistance and inductance of the parts of the loop, computed once.
struct LoopElements {
  double source_resistance = 0;  // [ohm] ESR or internal resistance of the whole source
  double lead_resistance = 0;    // [ohm] leads both ways at 20 C, and pieces
  double joint_resistance = 0;   // [ohm] joints and extra resistance
  double switch_resistance = 0;  // [ohm]
  double switch_drop = 0;        // [V] constant, against the current
  double inductance = 0;         // [H]; 0 for a prescribed current
  double total_resistance() const {
    return source_resistance + lead_resistance + joint_resistance + switch_resistance;
  }
};

// Throws std::invalid_argument, naming the value, where the circuit makes no sense: negative or
// non-finite elements, no capacitance, part counts below one, a table that does not increase,
// leads of a material or spacing that conductors.h refuses.
LoopElements elements(const Circuit&);

struct LoopState {
  double time = 0;            // [s]
  double source_voltage = 0;  // [V] behind the internal resistance; of a prescribed current: load
                              //     and all drops
  double current = 0;         // [A]
  bool closed = false;        // the switch conducts
  double over_time = 0;       // [s] for which the source has been at its limit or cut-off
  bool cut_off = false;       // the battery's protection has opened, for good
  bool extinguished = false;  // the thyristor's current has come to zero
  double store_voltage = 0;   // [V] of bank, battery, or a supply's output capacitor
};

// Energies of one step [J]; those of the resistances share int i^2 dt.
struct StepEnergy {
  double square_current = 0;  // int i^2 dt [A^2 s]
  double charge = 0;          // int i dt [A s]
  double from_source = 0;     // given up by the store, before internal losses; negative while a
                              // reversing current charges the bank
  double in_source = 0;       // lost in ESR or internal resistance
  double in_leads = 0;
  double in_joints = 0;
  double in_switch = 0;
  double in_load_resistance = 0;  // R_load * int i^2 dt
  double to_inductance = 0;       // change of L i^2 / 2
};

// Within one step, exact: where di/dt = 0, at a jump, or at either end.
struct StepExtremes {
  double current = 0;         // [A] largest magnitude
  double current_time = 0;    // [s] when, since the start of the step
  double lowest_voltage = 0;  // [V] of the source; of a bank deepest where its current is zero
};

struct StepOutcome {
  LoopState state;
  StepEnergy energy;
  StepExtremes extremes = {};
  // [s] since the start of the step, if the current ended for good within it: the battery's
  // protection opened, or the thyristor went out.
  std::optional<double> ended = {};
};

class Loop {
 public:
  // Throws as elements() does.
  explicit Loop(Circuit circuit);

  const Circuit& circuit() const { return circuit_; }
  const LoopElements& elements() const { return elements_; }
  bool current_is_prescribed() const { return circuit::current_is_prescribed(circuit_.source); }

  // Before the first closing: charged, no current.
  LoopState initial_state() const;
  // One step of length dt > 0 that crosses no event time; the switch is in state.closed.
  // load_resistance [ohm] >= 0 is that of the whole load. Throws std::invalid_argument if it is
  // not, and if a closed source that limits no current has neither resistance nor inductance in its
  // loop.
  StepOutcome advance(const LoopState&, double dt, double load_resistance) const;
  // Closing and opening are instantaneous. Opening returns the energy L i^2/2 [J] dumped in the
  // switch through `dumped`.
  LoopState close_switch(LoopState) const;
  LoopState open_switch(LoopState, double& dumped) const;

  // Times [s] at which the switch changes or a current table has a kink, increasing; a step must
  // not cross one. The first is t = 0 (closing). Pauses of no length are no events; kinks closer
  // than 1e-12 of their time to another event are left out.
  std::vector<double> event_times() const;
  // Just after this time; a time that falls short of an event by round-off counts as that event.
  bool conducts_at(double time) const;
  double end_of_train() const;  // [s] infinity if the switch never opens
  // No current is driven after this time [s]: end of the train or of a table, the earlier.
  double end_of_pulse() const;

  // Energy still in the store [J]; infinite sources give 0.
  double stored_energy(const LoopState&) const;

  // No discharge from rest exceeds this current [A], whatever the load: the smaller of V/R_loop
  // and V sqrt(C/L); infinity if nothing in the loop limits it.
  double peak_current_bound() const;

 private:
  struct Interval {
    double on = 0;   // [s]
    double off = 0;  // [s] infinity: never opens
  };

  Circuit circuit_;
  LoopElements elements_;
  std::vector<Interval> conducting_;  // increasing, not touching
};

}  // namespace tabmelt::circuit
