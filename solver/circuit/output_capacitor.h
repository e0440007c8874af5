// One step of a bench supply with a capacitor across its output, the load held constant.
//
//                  n
//   regulator -----+---- R_i ---- loop: R, L, U_b ----+
//                  +---- R_c ---- C ------------------+
//
//   holding its voltage   n = V,  L di/dt + R i = V - U_b,  C dv/dt = (V - v)/R_c
//                         as long as the regulator's current i + (V - v)/R_c stays below I_lim
//   in its limit          the regulator gives I_lim, the capacitor the rest:
//                         n = v + R_c (I_lim - i) < V,  C dv/dt = I_lim - i,
//                         L di/dt + R i = n - U_b;   with x = i - I_lim, u = v - U_b - R I_lim:
//                         L dx/dt + (R + R_c) x = u,  C du/dt = -x    the loop of discharge.h
//   no current in the loop  the capacitor is charged with I_lim until n = V, then through R_c
//
//   V    set voltage [V]           I_lim  limit of the regulator [A]    i  current of the loop [A]
//   v    of the capacitor [V]      n      voltage behind R_i [V]
//   R_c  series resistance of the capacitor [ohm]    R  all else in the loop, R_i and load too
//
// So a load of low resistance first gets a surge from the capacitor, then the limited current.
// Every stretch between two changes from one state to the other is solved exactly. The moment of a
// change is found by halving: n and i are damped swings about a mean, whose turning points are
// known in closed form (CapacitorDischarge::first_extreme), and between two of them a level is
// passed once. While it holds its voltage the regulator also takes a current that swings back.
//
// Energy: the source gives  int n i dt + R_c int i_c^2 dt  (i_c: current of the capacitor), what
// the capacitor lends and gets back evens out; R_c's share is booked as lost in the source.
#pragma once

#include "solver/circuit/step_march.h"

namespace tabmelt::circuit {

// Closed and conducting. state.source_voltage is n at the end of the step.
StepOutcome output_capacitor_step(const BenchSupply&, const LoopState& start, double dt,
                                  const LoopElements&, const StepLoad&, bool one_way);

// No current in the loop: the capacitor recovers.
StepOutcome output_capacitor_recharge(const BenchSupply&, const LoopState& start, double dt);

// Voltage n while no current flows.
double voltage_at_rest(const BenchSupply&, const LoopState&);

// Current [A] without inductance, just after `state`; back_voltage [V] >= 0 against it.
double current_without_inductance(const BenchSupply&, const LoopState&, double resistance,
                                  double back_voltage);

}  // namespace tabmelt::circuit
