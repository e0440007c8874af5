// One step of the loop, the load held constant, as a chain of stretches in which it is linear:
//
//   L di/dt = n - U - R i        L = 0: i follows at once; not conducting: i = 0
//
//   mode of the source             voltage n          its store w           the stretch ends when
//   bank                           w                  C dw/dt = -i
//   battery                        w                  w = V_oc              i rises past I_cut
//     above its cut-off            w                  w = V_oc              i falls below it, or
//                                                                           its delay is over
//   supply holding its voltage     V                  R_c C dw/dt = V - w   i + i_c rises past I
//     in its limit                 w + R_c (I - i)    C dw/dt = I - i       n rises past V
//     in its limit, C = 0          R I + U, i = I                           R I + U > V
//   prescribed current             R i + U, i given                         at a kink of the table
//
//   and, behind a thyristor, when i comes to zero.
//
//   i  current [A]     R  whole loop with load, a supply's R_c apart [ohm]     L  inductance [H]
//   U  forward drop of the switch [V]     C, R_c  output capacitor and its series resistance
//   I  limit of the supply [A]     i_c = C dw/dt  into its capacitor [A]
//
// Where R_c or C is zero a supply that holds its voltage has w = V. A supply with a discharged
// capacitor behind a thyristor first fills it, i = 0, until n rises past U.
//
// Each stretch is exact (circuit/linear_motion.h), its end found by root finder. The source gives
// int n i dt, and R_c int i_c^2 dt on top of it; what the capacitor lends and gets back evens out.
#pragma once

#include "solver/circuit/loop.h"

namespace tabmelt::circuit {

// Voltage n of a supply that delivers nothing, w on its capacitor.
double voltage_at_rest(const BenchSupply&, double store_voltage);

// `first_closing` [s]: the zero of time of an exponential current.
StepOutcome step(const Circuit&, const LoopElements&, double first_closing, const LoopState&,
                 double dt, double load_resistance);

}  // namespace tabmelt::circuit
