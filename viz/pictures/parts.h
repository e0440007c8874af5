// Where the parts of a stored run lie in the half-section.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "solver/result/stored_run.h"
#include "viz/drawing/page.h"

namespace tabmelt::pictures {

using namespace drawing;

inline constexpr double millimetres = 1e3;  // per metre

// The part of the half-section that is drawn [m].
struct Window {
  double r_max = 0;
  double z_min = 0, z_max = 0;
};

// Throws PictureError if edges and regions of the run do not fit together.
void require_mesh(const StoredRun&);

std::size_t columns(const StoredRun&);
std::size_t rows(const StoredRun&);
std::uint8_t region_at(const StoredRun&, std::size_t column, std::size_t row);
// Cell of a part at a place (x, z) [mm]; x < 0 is the mirrored half. Empty beside the parts.
std::optional<std::size_t> cell_at(const StoredRun&, Point mm);

// Numbers of regions: the electrode's (0 if there is none), the sheets' from the top, the layers'
// inside the cell from the wall on.
std::uint8_t electrode_of(const StoredRun&);
std::vector<std::uint8_t> sheets_of(const StoredRun&);
std::vector<std::uint8_t> layers_of(const StoredRun&);
bool is_metal(const StoredRun&, std::uint8_t region);
std::string name_of(const StoredRun&, std::uint8_t region);
// "strip", or what else the sheet under the tip is called.
std::string top_sheet_name(const StoredRun&);
// "inner can wall", or what the lowest sheet's underside is without a can.
std::string wall_name(const StoredRun&);
// [K] of the sheet under the tip.
std::optional<double> top_solidus(const StoredRun&);
// "strip" -> the number stored as strip_solidus; nothing if there is none.
std::optional<double> sheet_number(const StoredRun&, std::uint8_t region, const std::string& what);

// Half-open ranges of columns and rows that the window touches.
struct Range {
  std::size_t i_end = 0, j_begin = 0, j_end = 0;
};

Range range_of(const StoredRun&, const Window&);

// Regions with at least one cell inside the window, in order of their numbers; empty space left
// out.
std::vector<std::uint8_t> regions_inside(const StoredRun&, const Window&);

// How far a region reaches in each of its rows, lowest row first.
struct RowReach {
  std::size_t row = 0;
  std::size_t outer_edge = 0;  // number of the radial edge
};
std::vector<RowReach> reach_of(const StoredRun&, std::uint8_t region);

// Height and radius that a region fills; nothing if no cell belongs to it.
struct Extent {
  double low = 0, high = 0;  // [m]
  double outer = 0;          // [m] largest radius
};
std::optional<Extent> extent_of(const StoredRun&, std::uint8_t region);
// Of the sheet on top, and of the one whose underside is the wall; nothing without sheets.
std::optional<Extent> top_sheet(const StoredRun&);
std::optional<Extent> lowest_sheet(const StoredRun&);

// The rod and its end as the case has them: a face of radius `radius` at the height `foot`, a taper
// up to the body, and the face's curvature, which leaves a gap
//
//   lift(r) = (r^2 - b^2) / (2 R)      r > b, else 0
//
// beside what touches, b, where the grid has a flat face.
struct Tip {
  double foot = 0;                  // [m] height of the face
  double radius = 0;                // [m]
  double body = 0;                  // [m] radius of the rod
  double taper = 0;                 // [rad] between cone and axis; 0: none
  std::optional<double> curvature;  // R [m]; none: flat

  // [m]; `touching` is b.
  double lift(double r, double touching) const;
  // Where a point of the rod with a flat face lies, (r, z) [m]: lifted, less the further it is from
  // the face, and inside the cone as before.
  Point lifted(const Point& flat, double touching) const;
  double cone(double z) const;  // [m] radius of the rod
  // (r, z) [m] of the face from where it leaves the strip to its edge; empty if it is flat.
  Polyline arc(double touching) const;
};
// Nothing in a run that does not say.
std::optional<Tip> tip_of(const StoredRun&);
// [m] over which the tip touches at a time, or at most in the whole run; without such a record all
// of its face.
double touching_radius(const StoredRun&, const std::optional<double>& time);

// The silhouette of a body whose outer radius grows from row to row: (r, z) [m], upwards. It is
// the concave envelope of points inside the cells of its steps, hence straight along a cone and
// within one cell of the true surface, unless the run says what its tip is like. Empty if the body
// has no steps.
Polyline silhouette(const StoredRun&, std::uint8_t region);
// Radius [m] of a silhouette at a height [m].
double radius_at(const Polyline& silhouette, double z);

}  // namespace tabmelt::pictures
