// One section through both halves, mirrored at the electrode axis: the drawing that the section,
// the moments, the peak map and the current picture share.
#pragma once

#include <string>
#include <vector>

#include "solver/result/stored_run.h"
#include "viz/drawing/page.h"
#include "viz/pictures/contours.h"
#include "viz/pictures/fields.h"
#include "viz/pictures/head_and_foot.h"
#include "viz/pictures/outlines.h"

namespace tabmelt::pictures {

// The surroundings of the spot that a box of this shape shows: wide enough for the tip and for
// everything notably warm, from inside the cell to the electrode.
Window window_around_spot(const StoredRun&, double width_to_height);

// Where a picture shows one section only.
inline constexpr Box large_panel{200, 110, 985, 735};
// Of the tables beside it.
inline constexpr double column_left = 1318, column_width = page_width - page_margin - column_left;

// What a box on the page shows of the section, straight from the front.
struct Sight {
  // All of the window, or its right half if there is no mirror.
  Sight(const Window&, const Box&, bool mirror = true);

  Point at_mm(double r, double z) const;  // [mm]; negative r: the mirrored half
  Point at(double r, double z) const { return at_mm(r * millimetres, z * millimetres); }
  Point in_mm(Point at) const;
  // A line [mm] on the right half and, if there is a mirror, its image on the left.
  std::vector<Polyline> halves(const Polyline&) const;
  // What the box shows.
  Window window() const;

  Box box;
  Point middle;  // [mm] in the middle of the box
  double page_per_mm = 1;
  bool mirror = true;
};

// The field [same unit as the scale] in every region given, both halves.
void draw_field(Page&, const Sight&, const StoredRun&, const std::vector<float>& field,
                const Scale&, const std::vector<std::uint8_t>& regions);
// The same of a mesh and its values.
void draw_bands(Page&, const Sight&, const Contours&, const std::vector<float>& at_nodes,
                const Scale&);
void draw_lines(Page&, const Sight&, const std::vector<Polyline>& mm, const LineStyle&);
// Part outlines and the frame of the panel.
inline constexpr Colour part_outline{0.93, 0.93, 0.91};
void draw_parts(Page&, const Sight&, const StoredRun&);
// Edge of what is molten: bright with a dark core; dashed for the largest extent.
enum class MeltLine { now, largest };
// False if nothing of it lies inside the panel.
bool draw_melt(Page&, const Sight&, const StoredRun&, const std::vector<float>& liquid, MeltLine);
// The line sample for a legend.
void draw_melt_sample(Page&, Point left, double length, MeltLine);
// The can's inner surface as a heavy line.
void draw_inner_wall(Page&, const Sight&, const StoredRun&);
inline constexpr Colour inner_wall_colour{0.220, 0.820, 0.900};

// Names of the parts in the margin left of the panel, with leaders to the parts.
void draw_part_names(Page&, const Sight&, const StoredRun&);

// The inner wall's peak over the run against its limit, and the layer below it that passed its
// own limit furthest, in a box inside the panel.
void draw_inner_wall_note(Page&, const Sight&, const StoredRun&);

// Lower surface of the can [m]; false if there is no can.
bool inner_wall_height(const StoredRun&, double& z);

}  // namespace tabmelt::pictures
