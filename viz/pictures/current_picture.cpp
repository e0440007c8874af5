#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/drawing/legends.h"
#include "viz/drawing/words.h"
#include "viz/pictures/current_lines.h"
#include "viz/pictures/pictures.h"
#include "viz/pictures/section_panel.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

namespace {

constexpr Box panel = large_panel;
constexpr int tubes = 16;
constexpr Colour line_colour{0.98, 0.83, 0.35};
// Casing first, then the core on top of it.
constexpr LineStyle line_styles[] = {{.colour = palette::ink, .width = 4},
                                     {.colour = line_colour, .width = 2}};
constexpr Colour no_current{0.80, 0.79, 0.77};

// Even steps of potential [mV] in round numbers.
Scale potential_scale(const std::vector<float>& millivolts) {
  const auto [low, high] = std::minmax_element(millivolts.begin(), millivolts.end());
  const double span = std::max(1e-6, static_cast<double>(*high) - static_cast<double>(*low));
  return even_scale("potential [mV]", *low, *high, round_length(span / 7), potential_ramp);
}

void draw_arrow_head(Page& page, Point tip, double angle) {
  const auto corner = [&](double length, double turn) {
    return Point{tip.x + length * std::cos(angle + turn), tip.y + length * std::sin(angle + turn)};
  };
  page.shape({{corner(9, 0), corner(8, 2.5), corner(8, -2.5)}}, palette::ink);
  page.shape({{corner(6.5, 0), corner(5.5, 2.45), corner(5.5, -2.45)}}, line_colour);
}

// Heads every so often along the part of the line that shows, pointing where the current goes.
void draw_arrow_heads(Page& page, const Sight& sight, const StoredRun& run, const Frame& frame,
                      const Polyline& line, double side) {
  constexpr double every = 230;
  double walked = 0.4 * every;
  const Box& box = sight.box;
  for (std::size_t k = 1; k < line.size(); ++k) {
    const Point a = sight.at_mm(side * line[k - 1].x, line[k - 1].y);
    const Point b = sight.at_mm(side * line[k].x, line[k].y);
    walked += std::hypot(b.x - a.x, b.y - a.y);
    const bool shows =
        b.x > box.x + 12 && b.x < box.right() - 12 && b.y > box.y + 12 && b.y < box.top() - 12;
    if (walked < every || !shows) {
      continue;
    }
    const Point flow = current_direction(run, frame, line[k]);
    const double along =
        flow.x * (line[k].x - line[k - 1].x) + flow.y * (line[k].y - line[k - 1].y);
    if (along != 0) {
      draw_arrow_head(page, b, std::atan2(b.y - a.y, b.x - a.x) + (along < 0 ? M_PI : 0));
      walked = 0;
    }
  }
}

std::vector<Row> rows_at(const StoredRun& run, const Frame& frame, const CurrentLines& flow) {
  std::vector<Row> rows{{"Through the spot", short_number(std::abs(flow.total)) + " A"}};
  const auto add = [&](const std::string& words, const std::string& name, double factor,
                       const std::string& unit) {
    if (const auto value = value_at(run, name, frame.time); value && *value != 0) {
      rows.push_back({words, short_number(*value * factor) + unit});
    }
  };
  const auto [low, high] = std::minmax_element(frame.potential.begin(), frame.potential.end());
  rows.push_back({"Across the spot", short_number((*high - *low) * 1e3) + " mV"});
  add("Tip contact", "tip_resistance", 1e6, " \u00b5ohm");
  add("Joint contact", "faying_resistance", 1e6, " \u00b5ohm");
  add("Through the joint", "joint_share", 100, " %");
  return rows;
}

}  // namespace

Page current_picture(const StoredRun& run, std::optional<double> time) {
  require_mesh(run);
  const auto peak = peak_of(run, "current");
  const Frame frame = frame_of(run, nearest_frame(run, time.value_or(peak ? peak->time : 0)));
  if (frame.potential.size() != run.region.size()) {
    throw PictureError("the result holds no electric potential to draw");
  }
  const Window window = window_around_spot(run, panel.width / panel.height);
  const Sight sight(window, panel);
  std::vector<std::uint8_t> metals, others;
  for (const std::uint8_t region : regions_inside(run, window)) {
    (is_metal(run, region) ? metals : others).push_back(region);
  }
  const std::vector<float> millivolts = shown_values(Field::potential, frame.potential);
  const Scale scale = potential_scale(millivolts);
  const CurrentLines flow = current_lines(run, frame, tubes, window);
  const bool flows = flow.total != 0;
  if (!flows) {
    others.insert(others.end(), metals.begin(), metals.end());
    metals.clear();
  }

  Page page(page_width, page_height);
  draw_head_and_foot(page, run, time ? "Current" : "Peak current", "t = " + time_words(frame.time));
  page.rectangle(panel, palette::plot);
  draw_field(page, sight, Section(run, others, window, frame.time), millivolts,
             {"", {-1e30, 1e30}, {no_current}});
  draw_field(page, sight, Section(run, metals, window, frame.time), millivolts, scale);
  for (const LineStyle& style : line_styles) {
    draw_lines(page, sight, flow.lines, style);
  }
  for (const Polyline& line : flow.lines) {
    draw_arrow_heads(page, sight, run, frame, line, 1);
    draw_arrow_heads(page, sight, run, frame, line, -1);
  }
  draw_parts(page, sight, run, frame.time);
  draw_touching(page, sight, touching(run, frame.time));
  draw_part_names(page, sight, run);
  draw_scale_bar(page, {panel.x, panel.y - 22}, 0.25 * panel.width, sight.page_per_mm);
  page.text({panel.right(), panel.y - 28},
            flows ? fmt::format(
                        "Between neighbouring lines flows 1/{} of the current, all around the axis",
                        tubes)
                  : std::string("No current flows at this moment"),
            {.size = 14, .colour = palette::quiet_ink, .align = Align::right});
  if (flows) {
    draw_upright_scale(page, scale, large_scale);
  }
  const double y = draw_table(page, "At this moment", rows_at(run, frame, flow),
                              {column_left, panel.top()}, column_width);
  double legend = y - 44;
  if (flows) {
    for (const LineStyle& style : line_styles) {
      page.line({{column_left, legend}, {column_left + 48, legend}}, style);
    }
    draw_arrow_head(page, {column_left + 24, legend}, 0);
    page.text({column_left + 62, legend}, "Current line", {.size = 15});
    legend -= 28;
  }
  page.rectangle({column_left, legend - 8, 48, 16}, no_current);
  page.frame({column_left, legend - 8, 48, 16}, {.colour = palette::quiet_ink, .width = 1});
  page.text({column_left + 62, legend}, "No current here", {.size = 15});
  return page;
}

}  // namespace tabmelt::pictures
