// What is probed in the window: the place or the line on the sections, its curve over time and its
// profile along the line.
#pragma once

#include "viz/drawing/diagram.h"
#include "viz/window/controls.h"

namespace tabmelt::window {

void draw_probe(Page&, const View&, const ViewState&);

// The time axis of the probed place's curve.
Abscissa curve_axis(const StoredRun& first, const std::vector<double>& times);

}  // namespace tabmelt::window
