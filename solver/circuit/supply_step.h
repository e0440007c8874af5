// One step of the sources that limit their current: bench supply and battery with a cut-off.
//
//   bench supply, constant voltage   L di/dt + R i = V - U_b            while i < I_lim
//                 constant current   i = I_lim,  v = R I_lim + U_b      while v < V
//   battery                          L di/dt + R i = V_oc - U_b; opens once i >= I_cut has lasted
//                                    for its delay, L i^2/2 then goes into the protection
//
// A supply with a capacitor across its output: circuit/output_capacitor.h.
//
// V, V_oc open-circuit voltage [V]; U_b back voltage of load and switch [V]; R whole loop [ohm].
// The moment a current I is reached from i0:  t = -(L/R) ln(1 - (I - i0) R/(V - U_b - R i0)).
#pragma once

#include "solver/circuit/step_march.h"

namespace tabmelt::circuit {

// state.source_voltage is v of the table above at the end of the step.
StepOutcome supply_step(const BenchSupply&, const LoopState& start, double dt, const LoopElements&,
                        const StepLoad&, bool one_way);

StepOutcome battery_step(const Battery&, const LoopState& start, double dt, const LoopElements&,
                         const StepLoad&, bool one_way);

}  // namespace tabmelt::circuit
