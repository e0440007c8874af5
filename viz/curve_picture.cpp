#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "viz/annotations.h"
#include "viz/pictures.h"
#include "viz/stored_values.h"
#include "viz/time_panel.h"

namespace tabmelt {

namespace {

struct Wanted {
  const char* series;
  const char* name;
  Colour colour;
  double dash = 0;
};

using Conversion = double (*)(double);
double unchanged(double value) { return value; }
double to_milli(double value) { return value * 1e3; }

// A panel of those series that the run holds; empty if it holds none.
std::optional<Panel> panel_of(const StoredRun& run, const std::string& title,
                              const std::vector<Wanted>& wanted, Conversion convert,
                              bool zero_is_gap = false) {
  Panel panel{.title = title, .time = series_of(run, "time"), .curves = {}, .limits = {}};
  for (const Wanted& want : wanted) {
    std::vector<double> values = series_of(run, want.series);
    if (values.empty()) {
      continue;
    }
    for (double& value : values) {
      value = zero_is_gap && value == 0 ? std::nan("") : convert(value);
    }
    panel.curves.push_back(
        {want.name, std::move(values), {.colour = want.colour, .width = 2.4, .dash = want.dash}});
  }
  return panel.curves.empty() ? std::nullopt : std::optional<Panel>(std::move(panel));
}

// Probes and inner layers under their own names: "probe_disc" reads "disc".
void add_named_series(Panel& panel, const StoredRun& run, const std::string& prefix, double dash) {
  static constexpr std::array colours{palette::purple, palette::green, palette::orange,
                                      palette::sky, palette::blue};
  std::size_t next = 0;
  for (const auto& [name, values] : run.series) {
    if (!name.starts_with(prefix) || series_of(run, name).empty()) {
      continue;
    }
    std::vector<double> degrees(values.size());
    std::transform(values.begin(), values.end(), degrees.begin(), celsius);
    std::string words = name.substr(prefix.size());
    std::replace(words.begin(), words.end(), '_', ' ');
    panel.curves.push_back(
        {words,
         std::move(degrees),
         {.colour = colours[next++ % colours.size()], .width = 2, .dash = dash}});
  }
}

void draw_column(Page& page, const std::vector<Panel>& panels, const TimeAxis& axis, double left,
                 double width) {
  constexpr double between = 38, below = 56;
  const double bottom = body_bottom + below, top = body_top - 24;
  const auto count = static_cast<double>(panels.size());
  const double height = (top - bottom - between * (count - 1)) / count;
  double y = top - height;
  for (const Panel& panel : panels) {
    draw_panel(page, panel, axis, {left, y, width, height}, &panel == &panels.back());
    y -= height + between;
  }
}

std::vector<Panel> electrical_panels(const StoredRun& run) {
  std::vector<Panel> panels;
  const auto keep = [&](std::optional<Panel> panel) {
    if (panel) {
      panels.push_back(std::move(*panel));
    }
  };
  keep(panel_of(run, "Current [A]", {{"current", "current", palette::blue}}, unchanged));
  keep(panel_of(run, "Voltage [V]",
                {{"source_voltage", "source", palette::blue},
                 {"load_voltage", "all spots", palette::vermillion}},
                unchanged));
  keep(panel_of(run, "Resistance [m\u03a9]",
                {{"load_resistance", "all spots", palette::black},
                 {"tip_resistance", "tip on strip", palette::vermillion},
                 {"faying_resistance", "strip on can", palette::blue}},
                to_milli, true));
  keep(
      panel_of(run, "Force on one electrode [N]", {{"force", "force", palette::green}}, unchanged));
  return panels;
}

std::vector<Panel> thermal_panels(const StoredRun& run) {
  std::vector<Panel> panels;
  if (auto hot = panel_of(run, "Temperature of the spot [\u00b0C]",
                          {{"peak_temperature", "hottest point", palette::black},
                           {"strip_top_temperature", "strip, top", palette::orange},
                           {"faying_temperature", "joint", palette::vermillion}},
                          celsius)) {
    panels.push_back(std::move(*hot));
  }
  auto cell = panel_of(run, "Temperature of the cell side [\u00b0C]",
                       {{"inner_wall_temperature", "inner can wall", palette::black}}, celsius);
  if (!cell) {
    cell = Panel{.title = "Temperature [\u00b0C]",
                 .time = series_of(run, "time"),
                 .curves = {},
                 .limits = {}};
  }
  add_named_series(*cell, run, "layer_", 0);
  add_named_series(*cell, run, "probe_", 8);
  if (const auto limit = inner_wall_limit(run)) {
    cell->limits.push_back({fmt::format("limit {:.0f} \u00b0C", celsius(*limit)), celsius(*limit)});
  }
  if (!cell->curves.empty()) {
    panels.push_back(std::move(*cell));
  }
  if (auto nugget = panel_of(run, "Nugget [mm]",
                             {{"nugget_diameter", "across", palette::vermillion},
                              {"strip_penetration", "into strip", palette::orange},
                              {"can_penetration", "into can", palette::blue}},
                             to_milli)) {
    panels.push_back(std::move(*nugget));
  }
  return panels;
}

}  // namespace

void draw_curves(const StoredRun& run, const std::filesystem::path& png) {
  const std::vector<double>& time = series_of(run, "time");
  if (time.size() < 2) {
    throw PictureError("the result holds no time series to draw");
  }
  Page page(page_width, page_height);
  draw_head_and_foot(page, run, "The weld over time", "pulse at the left, heat at the right");
  const double pulse_end = pulse_end_of(run);
  const double electrical_end = std::min(time.back(), 1.15 * pulse_end);
  constexpr double axis_room = 62, gap = 30;
  const double column = (page_width - 2 * page_margin - gap) / 2;
  const double width = column - axis_room - label_room;
  draw_column(page, electrical_panels(run), TimeAxis(0, electrical_end, false),
              page_margin + axis_room, width);
  draw_column(page, thermal_panels(run), TimeAxis::over_run(time, pulse_end),
              page_margin + column + gap + axis_room, width);
  page.save(png);
}

}  // namespace tabmelt
