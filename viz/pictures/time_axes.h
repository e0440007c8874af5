// The time axis that pictures of one run share, and what of it current fills.
#pragma once

#include "solver/result/stored_run.h"
#include "viz/drawing/diagram.h"

namespace tabmelt::pictures {

using namespace drawing;

// From when the spot begins to warm to the end of the run.
Abscissa heat_axis(const StoredRun&);

// Shades the stretches in which current flows.
void shade_flows(Panel&, const StoredRun&);

}  // namespace tabmelt::pictures
