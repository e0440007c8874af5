#include "viz/section_panel.h"

#include <fmt/format.h>
#include <vtkPolyData.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "viz/pictures.h"
#include "viz/stored_values.h"
#include "viz/structured_mesh.h"

namespace tabmelt {

namespace {

constexpr LineStyle outline{.colour = {0.93, 0.93, 0.91}, .width = 1.2};

// Radius within which strip and can got warmer than a share of their largest rise [m].
double warm_radius(const StoredRun& run, double share) {
  const std::vector<float> peak = peak_temperature_of(run);
  const double ambient = ambient_of(run);
  const auto sheet = [&](std::size_t cell) {
    return run.region[cell] == region::strip || run.region[cell] == region::can;
  };
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
  if (const auto reach = reach_of(run, region::electrode); !reach.empty()) {
    tip = run.r_edges[reach.front().outer_edge];
  }
  double radius = std::clamp(1.8 * warm_radius(run, 0.25), 1.35 * tip, 2.5 * tip);
  Extent sheets, can;
  bool has_sheets = extent_of(run, region::strip, sheets);
  if (extent_of(run, region::can, can)) {
    sheets.low = can.low;
    sheets.high = has_sheets ? sheets.high : can.high;
    has_sheets = true;
  }
  if (!has_sheets) {
    sheets = {z_low, z_high, 0};
  }
  // The sheets take at most half of the height.
  radius = std::max(radius, (sheets.high - sheets.low) * width_to_height);
  radius = std::min(radius, run.r_edges.back());
  const double height = 2 * radius / width_to_height;
  double bottom = sheets.low - 0.3 * height;
  bottom = std::min(bottom, z_high - height);
  if (bottom < z_low) {
    bottom = z_high - z_low < height ? 0.5 * (z_low + z_high - height) : z_low;
  }
  return {radius, bottom, bottom + height};
}

SectionPlace::SectionPlace(const Window& window, const Box& box)
    : window_(window), box_(box), scale_(box.width / (2 * window.r_max * millimetres)) {}

Point SectionPlace::at_mm(double r, double z) const {
  return {box_.centre().x + r * scale_, box_.y + (z - window_.z_min * millimetres) * scale_};
}

std::vector<Polyline> SectionPlace::both_halves(const Polyline& line) const {
  std::vector<Polyline> halves(2);
  for (const Point& p : line) {
    halves[0].push_back(at_mm(p.x, p.y));
    halves[1].push_back(at_mm(-p.x, p.y));
  }
  return halves;
}

Scale temperature_scale(double coldest, double hottest) {
  static const std::vector<double> warm{30,  40,  50,  60,  80,  100, 120, 150,
                                        200, 250, 300, 350, 400, 500, 600, 700};
  static const std::vector<double> molten{40,   60,   80,   100,  150,  200,  300,  400,
                                          500,  600,  800,  1000, 1200, 1400, 1600, 1800,
                                          2000, 2500, 3000, 4000, 5000, 6000};
  constexpr double even_below = 130;
  Scale scale{"temperature [\u00b0C]", {}, {}};
  hottest = std::max(hottest, coldest + 1);
  if (hottest < even_below) {
    const double step = round_length((hottest - coldest) / 6);
    const double start = step * std::floor((coldest + 0.5) / step);
    for (int k = 0; k == 0 || scale.edges.back() < hottest; ++k) {
      scale.edges.push_back(start + step * k);
    }
  } else {
    scale.edges.push_back(5 * std::floor((coldest + 0.5) / 5));
    for (const double edge : hottest <= warm.back() ? warm : molten) {
      if (edge > scale.edges.front() + 5 && scale.edges.back() < hottest) {
        scale.edges.push_back(edge);
      }
    }
  }
  scale.colours = heat_ramp(scale.edges.size() - 1);
  return scale;
}

void draw_field(Page& page, const SectionPlace& place, const StoredRun& run,
                const std::vector<float>& field, const Scale& scale,
                const std::vector<std::uint8_t>& regions) {
  const Point origin = place.at_mm(0, 0);
  for (const std::uint8_t region : regions) {
    const auto mesh = region_mesh(run, field, region, place.window());
    if (mesh->GetNumberOfCells() == 0) {
      continue;
    }
    const auto filled = bands(mesh, scale.edges, scale.colours);
    for (const double side : {1.0, -1.0}) {
      page.mesh(moved(filled, origin, side * place.page_per_mm(), place.page_per_mm()),
                place.box());
    }
  }
}

void draw_parts(Page& page, const SectionPlace& place, const StoredRun& run) {
  for (const Polyline& line : part_outlines(run, place.window())) {
    for (const Polyline& half : place.both_halves(line)) {
      page.line(half, {.colour = palette::ink, .width = 2.6}, place.box());
    }
  }
  for (const Polyline& line : part_outlines(run, place.window())) {
    for (const Polyline& half : place.both_halves(line)) {
      page.line(half, outline, place.box());
    }
  }
  page.frame(place.box(), {.colour = palette::quiet_ink, .width = 1});
}

bool draw_melt(Page& page, const SectionPlace& place, const StoredRun& run,
               const std::vector<float>& liquid, MeltLine kind) {
  const std::vector<std::uint8_t> metals{region::electrode, region::strip, region::can};
  const auto lines = set_outline(run, liquid, 0.5, metals, place.window());
  for (const LineStyle& style : melt_styles(kind)) {
    for (const Polyline& line : lines) {
      for (const Polyline& half : place.both_halves(line)) {
        page.line(half, style, place.box());
      }
    }
  }
  return !lines.empty();
}

void draw_melt_sample(Page& page, Point left, double length, MeltLine kind) {
  page.rectangle({left.x - 4, left.y - 8, length + 8, 16}, heat_ramp(5)[3]);
  for (const LineStyle& style : melt_styles(kind)) {
    page.line({left, {left.x + length, left.y}}, style);
  }
}

bool inner_wall_height(const StoredRun& run, double& z) {
  Extent can;
  if (!extent_of(run, region::can, can)) {
    return false;
  }
  z = can.low;
  return true;
}

void draw_inner_wall(Page& page, const SectionPlace& place, const StoredRun& run) {
  Extent can;
  if (!extent_of(run, region::can, can)) {
    return;
  }
  const double reach = std::min(can.outer, place.window().r_max);
  const Polyline line{place.at(-reach, can.low), place.at(reach, can.low)};
  page.line(line, {.colour = palette::ink, .width = 6.5}, place.box());
  page.line(line, {.colour = inner_wall_colour, .width = 4}, place.box());
}

std::vector<float> in_celsius(const std::vector<float>& kelvin) {
  std::vector<float> degrees(kelvin.size());
  std::transform(kelvin.begin(), kelvin.end(), degrees.begin(),
                 [](float value) { return static_cast<float>(celsius(value)); });
  return degrees;
}

}  // namespace tabmelt
