#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "solver/catalogue/catalogue.h"
#include "viz/drawing/diagram.h"
#include "viz/pictures/head_and_foot.h"
#include "viz/pictures/over_time.h"
#include "viz/pictures/parts.h"
#include "viz/pictures/pictures.h"
#include "viz/pictures/section_panel.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

namespace {

double to_milli(double value) { return value * 1e3; }
// A logarithmic axis has no place for zero.
double to_milli_or_gap(double value) { return value == 0 ? std::nan("") : to_milli(value); }

// Probes and inner layers under their own names: "probe_disc" reads "disc".
void add_named_series(Panel& panel, const StoredRun& run, const std::string& prefix, double dash) {
  static constexpr std::array colours{palette::purple, palette::green, palette::orange,
                                      palette::sky, palette::blue};
  std::size_t next = panel.curves.size();
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

// One line per different limit, named after the first layer that it holds for.
void add_cell_limits(Panel& panel, const StoredRun& run) {
  struct Shared {
    double degrees = 0;
    std::string first;
    int layers = 0;
  };
  std::vector<Shared> limits;
  const auto layers = layers_of(run);
  for (std::size_t n = 0; n <= layers.size(); ++n) {
    const auto limit = cell_side_limit(run, n);
    if (!limit) {
      continue;
    }
    const double degrees = celsius(*limit);
    const auto same = std::find_if(limits.begin(), limits.end(), [&](const Shared& other) {
      return std::abs(other.degrees - degrees) < 0.5;
    });
    if (same != limits.end()) {
      ++same->layers;
    } else {
      limits.push_back({degrees, n == 0 ? wall_name(run) : name_of(run, layers[n - 1]), 1});
    }
  }
  for (const Shared& limit : limits) {
    const std::string others = limit.layers > 1 ? fmt::format(" +{}", limit.layers - 1) : "";
    panel.limits.push_back(
        {fmt::format("limit {:.0f}: {}{}", limit.degrees, limit.first, others), limit.degrees});
  }
}

void draw_column(Page& page, const std::vector<Panel>& panels, const Abscissa& axis, double left,
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

bool is_empty(const Panel& panel) { return panel.curves.empty(); }

constexpr double electrical_labels = 116, thermal_labels = 244;

// What the whole load of the loop is.
std::string spots_words(const StoredRun& run) {
  return scalar_of(run, "spots").value_or(2) > 1 ? "both spots" : "spot";
}

std::string joint_words(const StoredRun& run) {
  const auto sheets = sheets_of(run);
  if (sheets.size() != 2) return "all joints";
  return name_of(run, sheets[0]) + " on " + name_of(run, sheets[1]);
}

std::vector<Panel> electrical_panels(const StoredRun& run) {
  std::vector<Panel> panels{
      panel_of(run, "Current [A]", {{"current", "current", palette::blue}}),
      panel_of(run, "Voltage [V]",
               {{"source_voltage", "source", palette::blue},
                {"load_voltage", spots_words(run), palette::vermillion}}),
      panel_of(run, "Resistance [milliohm], logarithmic",
               {{"load_resistance", spots_words(run), palette::black},
                {"tip_resistance", "tip on " + top_sheet_name(run), palette::vermillion},
                {"faying_resistance", joint_words(run), palette::blue}},
               to_milli_or_gap),
      panel_of(
          run, "Force on one electrode [N]",
          {{"force", "force", palette::green}, {"other_force", "other tip", palette::orange}})};
  // Contacts collapse by decades within a pulse, and an opening one rises by as many.
  panels[2].decades = true;
  std::erase_if(panels, is_empty);
  return panels;
}

std::vector<Wanted> melt_series(const StoredRun& run) {
  constexpr Colour colours[] = {palette::orange, palette::blue, palette::green, palette::purple};
  std::vector<Wanted> list{{"nugget_diameter", "across", palette::vermillion}};
  const auto sheets = sheets_of(run);
  for (std::size_t n = 0; n < sheets.size(); ++n) {
    const std::string name = name_of(run, sheets[n]);
    list.push_back(
        {key_of(name) + "_penetration", "into " + name, colours[n % std::size(colours)]});
  }
  return list;
}

std::vector<Panel> thermal_panels(const StoredRun& run) {
  Panel hot = panel_of(run, "Temperature of the spot [\u00b0C]",
                       {{"peak_temperature", "hottest point", palette::black},
                        {"top_temperature", top_sheet_name(run) + " top", palette::orange},
                        {"faying_temperature", "joint", palette::vermillion}},
                       celsius);
  if (const auto melting = top_solidus(run)) {
    hot.limits.push_back({fmt::format("{} melts, {:.0f}", top_sheet_name(run), celsius(*melting)),
                          celsius(*melting), palette::quiet_ink});
  }
  // The layer that touches the wall is as hot and would hide it.
  constexpr double broad = 5;
  Panel cell =
      panel_of(run, "Temperature of the cell side [\u00b0C]",
               {{"inner_wall_temperature", wall_name(run), palette::black, 0, broad}}, celsius);
  if (is_empty(cell)) cell.title = "Temperature [\u00b0C]";
  add_named_series(cell, run, "layer_", 0);
  add_named_series(cell, run, "probe_", 8);
  if (std::any_of(run.series.begin(), run.series.end(),
                  [](const auto& series) { return series.first.starts_with("probe_"); })) {
    cell.title = "Temperature of cell side and probes [\u00b0C]";
  }
  add_cell_limits(cell, run);
  Panel nugget = panel_of(run, "Nugget [mm]", melt_series(run), to_milli);
  if (std::none_of(nugget.curves.begin(), nugget.curves.end(), rises_above_zero)) {
    nugget.note = "the joint does not melt";
  }
  std::vector<Panel> panels{std::move(hot), std::move(cell), std::move(nugget)};
  if (sparks(run, {})) {
    panels.push_back(panel_of(run, "Sparks thrown off by this spot so far [J]",
                              {{"energy_expelled", "sparks", palette::purple}}));
  }
  std::erase_if(panels, is_empty);
  for (Panel& panel : panels) {
    panel.shaded = flows_of(run);
    panel.shaded_name = "current flows";
    panel.with_peaks = true;
    panel.label_room = thermal_labels;
  }
  return panels;
}

}  // namespace

Page curves_picture(const StoredRun& run) {
  if (series_of(run, "time").size() < 2) {
    throw PictureError("the result holds no time series to draw");
  }
  Page page(page_width, page_height);
  draw_head_and_foot(page, run, "The weld over time", "pulse at the left, heat at the right");
  constexpr double axis_room = 62, gap = 24;
  const double width = 0.5 * (page_width - 2 * page_margin - gap - 2 * axis_room -
                              electrical_labels - thermal_labels);
  const double left = page_margin + axis_room;
  draw_column(page, electrical_panels(run), pulse_axis(run), left, width);
  draw_column(page, thermal_panels(run), heat_axis(run),
              left + width + electrical_labels + gap + axis_room, width);
  return page;
}

}  // namespace tabmelt::pictures
