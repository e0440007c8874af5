#include "viz/pictures/section_panel.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

namespace {

// Radius within which strip and can got warmer than a share of their largest rise [m].
double warm_radius(const StoredRun& run, double share) {
  const std::vector<float> peak = peak_temperature_of(run);
  const double ambient = ambient_of(run);
  const auto sheet = [&](std::size_t cell) { return is_sheet(run.parts[run.region[cell]]); };
  double largest = 0;
  for (std::size_t cell = 0; cell < peak.size(); ++cell) {
    if (sheet(cell)) {
      largest = std::max(largest, peak[cell] - ambient);
    }
  }
  double radius = 0;
  for (std::size_t cell = 0; cell < peak.size(); ++cell) {
    if (sheet(cell) && largest > 0 && peak[cell] - ambient > share * largest) {
      radius = std::max(radius, run.r_edges[cell % columns(run) + 1]);
    }
  }
  return radius;
}

// Casing first, then the core on top of it.
std::array<LineStyle, 2> melt_styles(MeltLine kind) {
  const double dash = kind == MeltLine::largest ? 9 : 0;
  return {LineStyle{.colour = palette::white, .width = 4.5, .dash = dash, .gap = 0.7 * dash},
          LineStyle{.colour = palette::black, .width = 2, .dash = dash, .gap = 0.7 * dash}};
}

}  // namespace

Window window_around_spot(const StoredRun& run, double width_to_height) {
  require_mesh(run);
  const double z_low = run.z_edges.front(), z_high = run.z_edges.back();
  double tip = run.r_edges.back();
  if (const auto reach = reach_of(run, electrode_of(run)); !reach.empty()) {
    tip = run.r_edges[reach.front().outer_edge];
  }
  double radius = std::clamp(1.8 * warm_radius(run, 0.25), 1.35 * tip, 2.5 * tip);
  const auto top = top_sheet(run), lowest = lowest_sheet(run);
  const double sheets_low = lowest ? lowest->low : z_low;
  // The sheets take at most half of the height.
  radius = std::max(radius, ((top ? top->high : z_high) - sheets_low) * width_to_height);
  radius = std::min(radius, run.r_edges.back());
  const double height = 2 * radius / width_to_height;
  double bottom = sheets_low - 0.3 * height;
  bottom = std::min(bottom, z_high - height);
  if (bottom < z_low) {
    bottom = z_high - z_low < height ? 0.5 * (z_low + z_high - height) : z_low;
  }
  return {radius, bottom, bottom + height};
}

Sight::Sight(const Window& shown, const Box& where, bool with_mirror)
    : box(where), mirror(with_mirror) {
  const double radius = shown.r_max * millimetres;
  const double height = (shown.z_max - shown.z_min) * millimetres;
  middle = {mirror ? 0 : 0.5 * radius, 0.5 * (shown.z_min + shown.z_max) * millimetres};
  page_per_mm = std::min(box.height / height, box.width / ((mirror ? 2 : 1) * radius));
}

Point Sight::at_mm(double r, double z) const {
  return {box.centre().x + (r - middle.x) * page_per_mm,
          box.centre().y + (z - middle.y) * page_per_mm};
}

Point Sight::in_mm(Point at) const {
  return {middle.x + (at.x - box.centre().x) / page_per_mm,
          middle.y + (at.y - box.centre().y) / page_per_mm};
}

std::vector<Polyline> Sight::halves(const Polyline& line) const {
  std::vector<Polyline> halves(mirror ? 2 : 1);
  for (const Point& p : line) {
    halves.front().push_back(at_mm(p.x, p.y));
    if (mirror) {
      halves.back().push_back(at_mm(-p.x, p.y));
    }
  }
  return halves;
}

Sight Sight::in(const Box& other) const {
  Sight same = *this;
  same.box = other;
  return same;
}

Window Sight::window() const {
  const Point low = in_mm({box.x, box.y}), high = in_mm({box.right(), box.top()});
  return {std::max(std::abs(low.x), std::abs(high.x)) / millimetres, low.y / millimetres,
          high.y / millimetres};
}

void draw_field(Page& page, const Sight& sight, const Section& section,
                const std::vector<float>& field, const Scale& scale) {
  draw_bands(page, sight, section, section.at_nodes(field), scale);
}

void draw_bands(Page& page, const Sight& sight, const Section& section,
                const std::vector<float>& at_nodes, const Scale& scale) {
  // Each band on top of the colder ones, so that nothing shines through between neighbours.
  for (std::size_t band = 0; band < scale.colours.size(); ++band) {
    const double foot = band > 0 ? scale.edges[band] : -std::numeric_limits<double>::infinity();
    std::vector<Polyline> outlines;
    for (const Polyline& outline : section.contours.outlines(at_nodes, foot)) {
      for (Polyline& half : sight.halves(outline)) {
        outlines.push_back(std::move(half));
      }
    }
    if (!outlines.empty()) {
      page.shape(outlines, scale.colours[band], sight.box);
    }
  }
}

void draw_lines(Page& page, const Sight& sight, const std::vector<Polyline>& mm,
                const LineStyle& style) {
  for (const Polyline& line : mm) {
    for (const Polyline& half : sight.halves(line)) {
      page.line(half, style, sight.box);
    }
  }
}

void draw_parts(Page& page, const Sight& sight, const StoredRun& run,
                const std::optional<double>& time) {
  const std::vector<Polyline> lines =
      part_outlines(run, sight.window(), touching_radius(run, time));
  draw_lines(page, sight, lines, {.colour = palette::ink, .width = 2.6});
  draw_lines(page, sight, lines, {.colour = part_outline, .width = 1.2});
  page.frame(sight.box, {.colour = palette::quiet_ink, .width = 1});
}

void draw_melt(Page& page, const Sight& sight, const std::vector<Polyline>& outline,
               MeltLine kind) {
  for (const LineStyle& style : melt_styles(kind)) {
    draw_lines(page, sight, outline, style);
  }
}

void draw_melt_sample(Page& page, Point left, double length, MeltLine kind) {
  page.rectangle({left.x - 4, left.y - 8, length + 8, 16}, temperature_scale().colour_of(1450));
  for (const LineStyle& style : melt_styles(kind)) {
    page.line({left, {left.x + length, left.y}}, style);
  }
}

void draw_inner_wall_sample(Page& page, Point left, double length) {
  page.line({left, {left.x + length, left.y}}, {.colour = palette::ink, .width = 6.5});
  page.line({left, {left.x + length, left.y}}, {.colour = inner_wall_colour, .width = 4});
}

std::vector<Touching> touching(const StoredRun& run, const std::optional<double>& time) {
  std::vector<Touching> list;
  const auto sheets = sheets_of(run);
  for (std::size_t n = 0; n < sheets.size(); ++n) {
    // Below the tip lies the top of the first sheet, below each joint that of the next.
    const auto extent = extent_of(run, sheets[n]);
    if (!extent) continue;
    const std::string key = n == 0              ? "tip"
                            : sheets.size() > 2 ? fmt::format("faying_{}", n)
                                                : "faying";
    const std::string name = key + "_contact_radius";
    const auto radius = time ? value_at(run, name, *time) : scalar_of(run, name);
    if (radius && *radius > 0) list.push_back({extent->high, *radius, key});
  }
  return list;
}

namespace {

constexpr double tick = 6;

void draw_touching_line(Page& page, Point from, Point to, const Page::Clip& clip) {
  for (const LineStyle& style : {LineStyle{.colour = palette::white, .width = 3.6},
                                 LineStyle{.colour = touching_colour, .width = 1.8}}) {
    page.line({from, to}, style, clip);
    for (const Point& end : {from, to}) {
      page.line({{end.x, end.y - tick}, {end.x, end.y + tick}}, style, clip);
    }
  }
}

}  // namespace

void draw_touching(Page& page, const Sight& sight, const std::vector<Touching>& list) {
  for (const Touching& surface : list) {
    draw_touching_line(page, sight.at(sight.mirror ? -surface.radius : 0, surface.z),
                       sight.at(surface.radius, surface.z), sight.box);
  }
}

void draw_touching_sample(Page& page, Point left, double length) {
  draw_touching_line(page, left, {left.x + length, left.y}, {});
}

void draw_inner_wall(Page& page, const Sight& sight, const StoredRun& run) {
  const auto wall = lowest_sheet(run);
  if (!wall) return;
  const double reach = std::min(wall->outer, sight.window().r_max);
  const Polyline line{sight.at(-reach, wall->low), sight.at(reach, wall->low)};
  page.line(line, {.colour = palette::ink, .width = 6.5}, sight.box);
  page.line(line, {.colour = inner_wall_colour, .width = 4}, sight.box);
}

}  // namespace tabmelt::pictures
