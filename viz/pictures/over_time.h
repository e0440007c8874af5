// What diagrams over the time of a run share: their axes, the run's series as curves, and when
// current flows.
#pragma once

#include <string>
#include <vector>

#include "solver/result/stored_run.h"
#include "viz/drawing/diagram.h"

namespace tabmelt::pictures {

using namespace drawing;

// From the start until a little after the current.
Abscissa pulse_axis(const StoredRun&);
// From when the spot begins to warm to the end of the run.
Abscissa heat_axis(const StoredRun&);

// A series to be drawn, under this name.
struct Wanted {
  std::string series, name;
  Colour colour;
  double dash = 0, width = 2.4;
};
// A panel of those series that the run holds, each value converted; without curves if it holds
// none.
Panel panel_of(const StoredRun&, const std::string& title, const std::vector<Wanted>&,
               double (*convert)(double) = nullptr);
// Whether a curve ever leaves the floor.
bool rises_above_zero(const drawing::Curve&);

// When current flows: stretches of time with more than a hundredth of its peak, those joined that
// are parted by less than a hundredth of the whole.
std::vector<Span> flows_of(const StoredRun&);

}  // namespace tabmelt::pictures
