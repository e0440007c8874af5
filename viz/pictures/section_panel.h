// One section through both halves, mirrored at the electrode axis: the drawing that the section,
// the moments, the peak map and the current picture share.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/result/stored_run.h"
#include "viz/drawing/page.h"
#include "viz/pictures/fields.h"
#include "viz/pictures/head_and_foot.h"
#include "viz/pictures/outlines.h"

namespace tabmelt::pictures {

// The surroundings of the spot that a box of this shape shows: wide enough for the tip and for
// everything notably warm, from inside the cell to the electrode.
Window window_around_spot(const StoredRun&, double width_to_height);

// Where a picture shows one section only.
inline constexpr Box large_panel{200, 110, 862, 735};
// Of the bar of colours beside it, with room for what it marks.
inline constexpr Box large_scale{large_panel.x + large_panel.width + 62, large_panel.y, 26,
                                 large_panel.height};
inline constexpr double marks_room = 162;
// Of the tables beside that.
inline constexpr double column_left = 1322, column_width = page_width - page_margin - column_left;

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
  // The same in another box.
  Sight in(const Box&) const;

  Box box;
  Point middle;  // [mm] in the middle of the box
  double page_per_mm = 1;
  bool mirror = true;
};

// The field [same unit as the scale] in every part of the section, both halves.
void draw_field(Page&, const Sight&, const Section&, const std::vector<float>& field, const Scale&);
// The same of its values at the nodes.
void draw_bands(Page&, const Sight&, const Section&, const std::vector<float>& at_nodes,
                const Scale&);
void draw_lines(Page&, const Sight&, const std::vector<Polyline>& mm, const LineStyle&);
// Part outlines with the tip as it touches at a time [s] or, unset, at most, and the frame of the
// panel.
inline constexpr Colour part_outline{0.93, 0.93, 0.91};
void draw_parts(Page&, const Sight&, const StoredRun&, const std::optional<double>& time);
// Edge of what is molten: bright with a dark core; dashed for the largest extent.
enum class MeltLine { now, largest };
void draw_melt(Page&, const Sight&, const std::vector<Polyline>& outline, MeltLine);
// The line sample for a legend.
void draw_melt_sample(Page&, Point left, double length, MeltLine);
// The can's inner surface as a heavy line.
void draw_inner_wall(Page&, const Sight&, const StoredRun&);
void draw_inner_wall_sample(Page&, Point left, double length);
inline constexpr Colour inner_wall_colour{0.220, 0.820, 0.900};
inline constexpr Colour touching_colour{0.30, 0.05, 0.45};

// How far surfaces touch at a time [s] or, unset, at most: the tip on the strip, then the joints.
struct Touching {
  double z = 0, radius = 0;  // [m]
  std::string key;           // of the contact in the catalogue
};
std::vector<Touching> touching(const StoredRun&, const std::optional<double>& time);
// A line along each such surface, with ticks where it ends.
void draw_touching(Page&, const Sight&, const std::vector<Touching>&);
void draw_touching_sample(Page&, Point left, double length);

// Names of the parts in the margin left of the panel, with leaders to the parts.
void draw_part_names(Page&, const Sight&, const StoredRun&);

// The same on tags inside the panel, where there is no margin.
void draw_part_tags(Page&, const Sight&, const StoredRun&);

// [J] thrown off as sparks by this spot until a time [s] or, unset, in the whole run; nothing if
// too little to be seen.
std::optional<double> sparks(const StoredRun&, const std::optional<double>& time);
// Rays from where they left, and the energy in words beside the strip.
void draw_sparks(Page&, const Sight&, const StoredRun&, const std::optional<double>& time);

// The finding that decides, the worst that happened or, if all is well, the one closest to its
// limit, in a box inside the panel with a leader to its place. Without one, the inner wall's peak
// against its limit.
void draw_binding_limit(Page&, const Sight&, const StoredRun&);

}  // namespace tabmelt::pictures
