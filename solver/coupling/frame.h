// One moment of the fields, as pictures and the result file want it.
#pragma once

#include "solver/coupling/pulse_step.h"
#include "solver/result/result.h"

namespace tabmelt {

// `spot` holds the current field of the last attempt, which is that of `state`; `ambient` [K]
// stands where nothing is. Without current, potential and current density are 0.
void fill_frame(const WeldModel&, const Spot& spot, const WeldState& state, double ambient,
                bool current_flows, Frame&);

}  // namespace tabmelt
