#include <fmt/format.h>

#include <algorithm>

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

void add_temperature(std::vector<Row>& rows, const std::string& name, std::optional<double> kelvin,
                     std::optional<double> limit = std::nullopt) {
  if (kelvin) {
    const bool over = limit && *kelvin > *limit;
    rows.push_back({name, celsius_words(*kelvin), over ? palette::bad : palette::ink});
  }
}

void add_length(std::vector<Row>& rows, const std::string& name, std::optional<double> metres) {
  if (metres) {
    rows.push_back({name, millimetre_words(*metres)});
  }
}

std::vector<Row> rows_at(const StoredRun& run, const Frame& frame) {
  std::vector<Row> rows;
  const auto now = [&](const std::string& name) { return value_at(run, name, frame.time); };
  if (const auto current = now("current")) {
    rows.push_back({"Current", short_number(*current) + " A"});
  }
  rows.push_back({"Hottest point", celsius_words(hottest_of(frame.temperature))});
  add_temperature(rows, "Strip top", now("top_temperature"));
  add_temperature(rows, "Joint", now("faying_temperature"));
  add_temperature(rows, in_words::capitalised(wall_name(run)), now("inner_wall_temperature"),
                  inner_wall_limit(run));
  add_length(rows, "Nugget across", now("nugget_diameter"));
  return rows;
}

std::vector<Row> rows_of_whole_run(const StoredRun& run) {
  std::vector<Row> rows;
  const auto peak = [&](const std::string& name) {
    const auto found = peak_of(run, name);
    return found ? std::optional<double>(found->value) : std::nullopt;
  };
  if (const auto current = peak("current")) {
    rows.push_back({"Peak current", short_number(*current) + " A"});
  }
  add_temperature(rows, "Hottest point", peak("peak_temperature"));
  add_temperature(rows, "Strip top", peak("top_temperature"));
  add_temperature(rows, "Joint", peak("faying_temperature"));
  add_temperature(rows, in_words::capitalised(wall_name(run)), peak("inner_wall_temperature"),
                  inner_wall_limit(run));
  add_length(rows, "Nugget across", peak("nugget_diameter"));
  for (const std::uint8_t sheet : sheets_of(run)) {
    const std::string name = name_of(run, sheet);
    add_length(rows, "Melt into " + name, peak(key_of(name) + "_penetration"));
  }
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
  add("Strip top", "top_temperature");
  add("Joint", "faying_temperature");
  add(in_words::capitalised(wall_name(run)), "inner_wall_temperature");
  if (const auto nugget = peak_of(run, "nugget_diameter"); nugget && nugget->value > 0) {
    add("Largest nugget", "nugget_diameter");
  }
  return rows;
}

// True if hardly a cell was ever molten that is not molten now: the outlines lie on each other.
bool nearly_same_extent(const std::vector<float>& now, const std::vector<float>& ever) {
  std::size_t molten = 0, differing = 0;
  for (std::size_t cell = 0; cell < ever.size() && cell < now.size(); ++cell) {
    molten += ever[cell] >= 0.5F ? 1 : 0;
    differing += ever[cell] >= 0.5F && now[cell] < 0.5F ? 1 : 0;
  }
  return molten > 0 && 50 * differing <= molten;
}

struct Legend {
  bool melt_now = false, melt_largest = false, wall = false;
  bool all_at_once = false;  // what is molten now is the largest extent
};

void draw_legend(Page& page, const StoredRun& run, const Legend& legend, double y) {
  const TextStyle words{.size = 15};
  const double x = column_left;
  const auto next = [&](const std::string& name) {
    page.text({x + 62, y}, name, words);
    y -= 27;
  };
  if (legend.melt_now) {
    draw_melt_sample(page, {x + 4, y}, 40, MeltLine::now);
    next("Molten now");
  }
  if (legend.melt_largest) {
    draw_melt_sample(page, {x + 4, y}, 40, MeltLine::largest);
    next(legend.all_at_once ? "Largest melt: now" : "Largest melt");
  }
  if (legend.wall) {
    page.line({{x, y}, {x + 48, y}}, {.colour = palette::ink, .width = 6.5});
    page.line({{x, y}, {x + 48, y}}, {.colour = inner_wall_colour, .width = 4});
    next(in_words::capitalised(wall_name(run)));
  }
}

// Panel, scale, scale bar, names: all but the columns of words.
void draw_temperature_panel(Page& page, const StoredRun& run, const std::vector<float>& kelvin,
                            const std::vector<float>& liquid_now,
                            const std::vector<float>& liquid_ever, Legend& legend) {
  const Window window = window_around_spot(run, panel.width / panel.height);
  const Sight sight(window, panel);
  const Scale scale =
      temperature_scale(celsius(ambient_of(run)), celsius(hottest_of(peak_temperature_of(run))));
  page.rectangle(panel, palette::plot);
  draw_field(page, sight, run, shown_values(Field::temperature, kelvin), scale,
             regions_inside(run, window));
  draw_parts(page, sight, run);
  draw_inner_wall(page, sight, run);
  legend.melt_largest = draw_melt(page, sight, run, liquid_ever, MeltLine::largest);
  legend.all_at_once = nearly_same_extent(liquid_now, liquid_ever);
  legend.melt_now = !liquid_now.empty() && draw_melt(page, sight, run, liquid_now, MeltLine::now);
  draw_part_names(page, sight, run);
  draw_inner_wall_note(page, sight, run);
  double z = 0;
  legend.wall = inner_wall_height(run, z);
  draw_scale_bar(page, {panel.x, panel.y - 22}, 0.25 * panel.width, sight.page_per_mm);
  page.text({panel.right(), panel.y - 28},
            "Section through the electrode axis, both halves; true to scale",
            {.size = 14, .colour = palette::quiet_ink, .align = Align::right});
  draw_upright_scale(page, scale, {panel.right() + 22, panel.y, 26, panel.height});
}

}  // namespace

Page section_picture(const StoredRun& run, double time) {
  require_mesh(run);
  const Frame frame = frame_of(run, nearest_frame(run, time));
  Page page(page_width, page_height);
  draw_head_and_foot(page, run, "t = " + time_words(frame.time), "temperature in the spot");
  Legend legend;
  draw_temperature_panel(page, run, frame.temperature, frame.liquid_fraction, peak_liquid_of(run),
                         legend);
  double y = draw_table(page, "At this moment", rows_at(run, frame), {column_left, panel.top()},
                        column_width);
  y = draw_table(page, "Peaks of the whole run", rows_of_whole_run(run), {column_left, y - 26},
                 column_width);
  draw_legend(page, run, legend, y - 44);
  return page;
}

Page peak_picture(const StoredRun& run) {
  require_mesh(run);
  Page page(page_width, page_height);
  draw_head_and_foot(page, run, "Peak temperature", "the hottest each place became in the run");
  Legend legend;
  draw_temperature_panel(page, run, peak_temperature_of(run), {}, peak_liquid_of(run), legend);
  double y = draw_table(page, "Peaks of the whole run", rows_of_whole_run(run),
                        {column_left, panel.top()}, column_width);
  y = draw_table(page, "When", rows_of_times(run), {column_left, y - 26}, column_width);
  draw_legend(page, run, legend, y - 44);
  return page;
}

}  // namespace tabmelt::pictures
