// Lines along which the current flows.
//
//   I(r, z) = integral from 0 to r of -J_z 2 pi r' dr'      [A]
//
// is the current that flows downwards inside radius r. A line of constant I is a current line, and
// the same current flows between neighbours of equal steps in I.
#pragma once

#include <vector>

#include "solver/result/stored_run.h"
#include "viz/pictures/outlines.h"

namespace tabmelt::pictures {

struct CurrentLines {
  double total = 0;             // [A] through the electrode, positive downwards
  std::vector<Polyline> lines;  // (r, z) [mm]
};

// `tubes` equal shares of the current. No lines if the frame holds no current.
CurrentLines current_lines(const StoredRun&, const Frame&, int tubes, const Window&);

// Current density (J_r, J_z) at a point [mm]; none beside the parts.
Point current_direction(const StoredRun&, const Frame&, Point at);

}  // namespace tabmelt::pictures
