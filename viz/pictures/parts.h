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

// Throws PictureError if edges, regions and names of the run do not fit together.
void require_mesh(const StoredRun&);

std::size_t columns(const StoredRun&);
std::size_t rows(const StoredRun&);
std::uint8_t region_at(const StoredRun&, std::size_t column, std::size_t row);

// Numbers of regions: the electrode's (0 if there is none), the sheets' from the top, the layers'
// inside the cell from the wall on.
std::uint8_t electrode_of(const StoredRun&);
std::vector<std::uint8_t> sheets_of(const StoredRun&);
std::vector<std::uint8_t> layers_of(const StoredRun&);
bool is_metal(const StoredRun&, std::uint8_t region);
std::string name_of(const StoredRun&, std::uint8_t region);
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

// Height and radius that a region fills; false if no cell belongs to it.
struct Extent {
  double low = 0, high = 0;  // [m]
  double outer = 0;          // [m] largest radius
};
bool extent_of(const StoredRun&, std::uint8_t region, Extent&);

// The silhouette of a body whose outer radius grows from row to row: (r, z) [m], upwards. It is
// the concave envelope of points inside the cells of its steps, hence straight along a cone and
// within one cell of the true surface. Empty if the body has no steps.
Polyline silhouette(const StoredRun&, std::uint8_t region);
// Radius [m] of a silhouette at a height [m].
double radius_at(const Polyline& silhouette, double z);

}  // namespace tabmelt::pictures
