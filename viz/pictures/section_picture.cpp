#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "solver/catalogue/catalogue.h"
#include "solver/words/in_words.h"
#include "viz/drawing/legends.h"
#include "viz/drawing/words.h"
#include "viz/pictures/pictures.h"
#include "viz/pictures/section_panel.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

namespace {

constexpr Box panel = large_panel;

double hottest_of(const std::vector<float>& field) {
  return *std::max_element(field.begin(), field.end());
}

std::string top_name(const StoredRun& run) {
  return in_words::capitalised(top_sheet_name(run)) + " top";
}

std::string joint_name(const StoredRun& run) {
  return sheets_of(run).size() > 2 ? "Coldest joint" : "Joint";
}

void add_touching(std::vector<Row>& rows, const StoredRun& run, const std::optional<double>& time) {
  for (const Touching& surface : touching(run, time)) {
    if (surface.key == "tip") {
      rows.push_back({"Tip touches across", millimetre_words(2 * surface.radius)});
    }
  }
}

void add_sparks(std::vector<Row>& rows, const StoredRun& run, const std::optional<double>& time) {
  if (const auto joules = sparks(run, time)) {
    rows.push_back({time ? "Sparks so far" : "Sparks", in_words::energy(*joules), palette::bad});
  }
}

void add_temperature(std::vector<Row>& rows, const std::string& name, std::optional<double> kelvin,
                     std::optional<double> limit = std::nullopt) {
  if (kelvin) {
    const bool over = limit && *kelvin > *limit;
    rows.push_back({name, in_words::temperature(*kelvin), over ? palette::bad : palette::ink});
  }
}

void add_length(std::vector<Row>& rows, const std::string& name, std::optional<double> metres) {
  if (metres) {
    rows.push_back({name, millimetre_words(*metres)});
  }
}

// What both tables tell, of a moment or of the whole run.
std::vector<Row> rows_of(const StoredRun& run, const std::string& current_words,
                         const std::function<std::optional<double>(const std::string&)>& value) {
  std::vector<Row> rows;
  if (const auto current = value("current")) {
    rows.push_back({current_words, short_number(*current) + " A"});
  }
  add_temperature(rows, "Hottest point", value("peak_temperature"));
  add_temperature(rows, top_name(run), value("top_temperature"));
  add_temperature(rows, joint_name(run), value("faying_temperature"));
  add_temperature(rows, in_words::capitalised(wall_name(run)), value("inner_wall_temperature"),
                  inner_wall_limit(run));
  add_length(rows, "Nugget across", value("nugget_diameter"));
  return rows;
}

std::vector<Row> rows_at(const StoredRun& run, const Frame& frame) {
  std::vector<Row> rows = rows_of(run, "Current", [&](const std::string& name) {
    const auto now = value_at(run, name, frame.time);
    // Surfaces may be hotter than cells, where the run tells.
    return now || name != "peak_temperature" ? now : hottest_of(frame.temperature);
  });
  add_touching(rows, run, frame.time);
  add_sparks(rows, run, frame.time);
  return rows;
}

std::vector<Row> rows_of_whole_run(const StoredRun& run) {
  const auto peak = [&](const std::string& name) {
    const auto found = peak_of(run, name);
    return found ? std::optional<double>(found->value) : std::nullopt;
  };
  std::vector<Row> rows = rows_of(run, "Peak current", peak);
  for (const std::uint8_t sheet : sheets_of(run)) {
    const std::string name = name_of(run, sheet);
    add_length(rows, "Melt into " + name, peak(key_of(name) + "_penetration"));
  }
  add_sparks(rows, run, {});
  return rows;
}

std::vector<Row> rows_of_times(const StoredRun& run) {
  std::vector<Row> rows;
  const auto add = [&](const std::string& words, const std::string& name) {
    if (const auto found = peak_of(run, name)) {
      rows.push_back({words, time_words(found->time)});
    }
  };
  add("Peak current", "current");
  add("Hottest point", "peak_temperature");
  add(top_name(run), "top_temperature");
  add(joint_name(run), "faying_temperature");
  add(in_words::capitalised(wall_name(run)), "inner_wall_temperature");
  if (const auto nugget = peak_of(run, "nugget_diameter"); nugget && nugget->value > 0) {
    add("Largest nugget", "nugget_diameter");
  }
  return rows;
}

double length_of(const std::vector<Polyline>& lines) {
  double length = 0;
  for (const Polyline& line : lines) {
    for (std::size_t k = 1; k < line.size(); ++k) {
      length += std::hypot(line[k].x - line[k - 1].x, line[k].y - line[k - 1].y);
    }
  }
  return length;
}

// True if every place of one outline lies close to the other: they would lie on each other.
bool nearly_same(const std::vector<Polyline>& a, const std::vector<Polyline>& b) {
  if (a.empty() || b.empty() || std::abs(length_of(a) - length_of(b)) > 0.05 * length_of(b)) {
    return false;
  }
  constexpr double close = 0.008;  // [mm]
  for (const Polyline& line : b) {
    for (const Point& p : line) {
      const bool met = std::any_of(a.begin(), a.end(), [&](const Polyline& other) {
        return std::any_of(other.begin(), other.end(), [&](const Point& q) {
          return std::hypot(p.x - q.x, p.y - q.y) < close;
        });
      });
      if (!met) return false;
    }
  }
  return true;
}

// What a panel of temperatures shows.
struct Shown {
  std::vector<float> kelvin;
  std::vector<float> liquid;   // now; empty if the panel shows no moment
  std::optional<double> time;  // [s] of the tip's touching face and of the sparks; unset: at most
};

void draw_legend(Page& page, const StoredRun& run, const std::optional<double>& time, bool now,
                 bool largest, double y) {
  constexpr double length = 40;
  const double x = column_left + 4;
  const auto next = [&](const std::string& name) {
    page.text({x + 58, y}, name, {.size = 15, .room = column_width - 62});
    y -= 25;
  };
  if (now) {
    draw_melt_sample(page, {x, y}, length, MeltLine::now);
    next(largest ? "Molten now" : "Molten now, the most");
  }
  if (largest) {
    draw_melt_sample(page, {x, y}, length, MeltLine::largest);
    next("Ever molten");
  }
  if (!touching(run, time).empty()) {
    draw_touching_sample(page, {x, y}, length);
    next("Touching");
  }
  if (lowest_sheet(run)) {
    draw_inner_wall_sample(page, {x - 4, y}, length + 8);
    next(in_words::capitalised(wall_name(run)));
  }
}

// Panel, scale, scale bar, names, legend from the height `y` down: all but the columns of words.
void draw_temperature_panel(Page& page, const StoredRun& run, const Shown& shown,
                            const std::optional<TemperatureRange>& range, double y) {
  const Window window = window_around_spot(run, panel.width / panel.height);
  const Sight sight(window, panel);
  const Section section(run, regions_inside(run, window), window, shown.time);
  const Scale scale = temperature_scale(run, range);
  page.rectangle(panel, palette::plot);
  draw_field(page, sight, section, shown_values(Field::temperature, shown.kelvin), scale);
  draw_parts(page, sight, run, shown.time);
  draw_inner_wall(page, sight, run);
  draw_touching(page, sight, touching(run, shown.time));
  const auto now = melt_outline(run, section, shown.kelvin, shown.liquid);
  const auto ever = melt_outline(run, section, peak_temperature_of(run), peak_liquid_of(run));
  const bool largest = !ever.empty() && !nearly_same(now, ever);
  if (largest) draw_melt(page, sight, ever, MeltLine::largest);
  draw_melt(page, sight, now, MeltLine::now);
  draw_sparks(page, sight, run, shown.time);
  draw_part_names(page, sight, run);
  draw_binding_limit(page, sight, run);
  draw_scale_bar(page, {panel.x, panel.y - 22}, 0.25 * panel.width, sight.page_per_mm);
  page.text({panel.right(), panel.y - 28},
            "Section through the electrode axis, both halves; true to scale",
            {.size = 14, .colour = palette::quiet_ink, .align = Align::right});
  draw_upright_scale(page, scale, large_scale, marks_room);
  draw_legend(page, run, shown.time, !now.empty(), largest, y);
}

}  // namespace

Page section_picture(const StoredRun& run, double time,
                     const std::optional<TemperatureRange>& range) {
  require_mesh(run);
  const Frame frame = frame_of(run, nearest_frame(run, time));
  Page page(page_width, page_height);
  draw_head_and_foot(page, run, "t = " + time_words(frame.time), "temperature in the spot");
  double y = draw_table(page, "At this moment", rows_at(run, frame), {column_left, panel.top()},
                        column_width);
  y = draw_table(page, "Peaks of the whole run", rows_of_whole_run(run), {column_left, y - 22},
                 column_width);
  draw_temperature_panel(page, run, {frame.temperature, frame.liquid_fraction, frame.time}, range,
                         y - 36);
  return page;
}

Page peak_picture(const StoredRun& run, const std::optional<TemperatureRange>& range) {
  require_mesh(run);
  Page page(page_width, page_height);
  draw_head_and_foot(page, run, "Peak temperature", "the hottest each place became in the run");
  double y = draw_table(page, "Peaks of the whole run", rows_of_whole_run(run),
                        {column_left, panel.top()}, column_width);
  y = draw_table(page, "When", rows_of_times(run), {column_left, y - 22}, column_width);
  draw_temperature_panel(page, run, {peak_temperature_of(run), {}, {}}, range, y - 36);
  return page;
}

}  // namespace tabmelt::pictures
