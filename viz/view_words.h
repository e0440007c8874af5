// Everything in the window but the sections: buttons, time slider, scale, help; and the scales.
// What is probed is drawn by viz/view_probe.h.
#pragma once

#include <vector>

#include "viz/diagram.h"
#include "viz/view_panel.h"

namespace tabmelt {

// Scale of a field over runs whose coldest temperature and largest value are given.
Scale scale_for(Field, double coldest, double largest);
// Largest value of a field at the moments where it peaks.
double largest_shown(ViewPanel&, Field);

struct ViewedRun {
  ViewPanel* panel = nullptr;
  std::size_t frame = 0;
};

struct View {
  const ViewLayout& layout;
  const ViewState& state;
  const Scale& scale;
  const std::vector<double>& times;  // [s]
  const std::vector<ViewedRun>& runs;
};

// The time axis of the probed place's curve.
Abscissa curve_axis(const StoredRun& first, const std::vector<double>& times);

// What stays while time passes, and what changes with it.
void draw_lasting(Page&, const View&);
void draw_passing(Page&, const View&);

}  // namespace tabmelt
