#include "viz/pictures/moment_view.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/drawing/words.h"
#include "viz/pictures/outlines.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

MomentLayout::MomentLayout(double width, double height, std::size_t runs, bool with_line) {
  constexpr double gap = 6;
  slider = {margin + 8, 66, std::max(50.0, width - 2 * margin - 16 - 110), 14};
  // Two runs share the width, so their titles need the height.
  const double bottom = 108, top = height - (runs > 1 ? 126 : 84);
  const double side = std::min(330.0, 0.34 * width);
  const double room = std::max(60.0, width - 2 * margin - side - 16);
  const auto count = static_cast<double>(std::max<std::size_t>(runs, 1));
  for (std::size_t n = 0; n < runs; ++n) {
    const double wide = (room - gap * (count - 1)) / count;
    panels.push_back({margin + static_cast<double>(n) * (wide + gap), bottom, wide,
                      std::max(60.0, top - bottom)});
  }
  const double left = margin + room + 16;
  const double all = top - bottom, diagrams = (with_line ? 0.6 : 0.5) * all;
  scale = {left, bottom + diagrams + 16, 22, std::max(40.0, all - diagrams - 36)};
  // Above each diagram stand its place and quantity, below it its labels.
  constexpr double above = 44, below = 44;
  const double each = diagrams / (with_line ? 2 : 1);
  const double plot_width = std::max(40.0, side - 110);
  const double plot_height = std::max(30.0, each - above - below);
  curve = {left + 46, bottom + below, plot_width, plot_height};
  if (with_line) {
    profile = {curve.x, curve.y + each, plot_width, plot_height};
  }
}

double first_isotherm(const StoredRun& run) { return celsius(top_solidus(run).value_or(1728)); }

ShownRun::ShownRun(const StoredRun& run)
    : run_((require_mesh(run), run)),
      section_(section_mesh(run)),
      contours_(section_.mesh),
      outlines_(part_outlines(run, whole(run))) {}

const std::vector<float>& ShownRun::values(std::size_t frame, Field field) {
  const auto known = frames_.find({frame, field});
  if (known != frames_.end()) {
    return known->second;
  }
  return frames_[{frame, field}] = cell_values(frame_of(run_, frame), field);
}

const std::vector<float>& ShownRun::history(std::size_t cell, Field field) {
  const auto known = histories_.find({cell, field});
  if (known != histories_.end()) {
    return known->second;
  }
  std::vector<float> course;
  if (run_.history) {
    course = shown_values(field, run_.history(stored_field(field), cell));
  } else {
    for (std::size_t frame = 0; frame < run_.frame_times.size(); ++frame) {
      if (const auto& all = values(frame, field); !all.empty()) {
        course.push_back(all[cell]);
      }
    }
  }
  return histories_[{cell, field}] = std::move(course);
}

double ShownRun::largest(Field field) {
  double largest = 0;
  const auto include = [&](const std::vector<float>& all) {
    for (std::size_t cell = 0; cell < all.size(); ++cell) {
      if (run_.region[cell] != mesh::empty) {
        largest = std::max(largest, static_cast<double>(all[cell]));
      }
    }
  };
  if (field == Field::temperature) {
    include(shown_values(field, peak_temperature_of(run_)));
  } else {
    for (const Moment& moment : telling_moments(run_)) {
      include(values(moment.frame, field));
    }
  }
  return largest;
}

std::vector<Polyline> ShownRun::isotherm(std::size_t frame, double degrees) {
  return contours_.lines_at(section_.at_nodes(values(frame, Field::temperature)), degrees);
}

void ShownRun::draw_section(Page& page, const Sight& sight, std::size_t frame, const Shown& shown,
                            const Scale& scale) {
  page.rectangle(sight.box, palette::plot);
  draw_bands(page, sight, contours_, section_.at_nodes(values(frame, shown.field)), scale);
  draw_lines(page, sight, outlines_, {.colour = part_outline, .width = 1.4});
  if (shown.isotherm && shown.field == Field::temperature) {
    draw_lines(page, sight, isotherm(frame, shown.level), {.colour = palette::black, .width = 2.4});
  }
}

Sight View::sight(std::size_t run) const {
  Sight same = first_sight;
  same.box = layout.panels[run];
  return same;
}

std::size_t View::frame(std::size_t run) const { return nearest_frame(runs[run]->run(), time()); }

std::vector<double> all_times(const std::vector<StoredRun>& runs) {
  std::vector<double> times;
  for (const StoredRun& run : runs) {
    times.insert(times.end(), run.frame_times.begin(), run.frame_times.end());
  }
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  if (times.empty()) {
    throw PictureError("the result holds no frames to look at");
  }
  return times;
}

Scale common_scale(const ShownRuns& runs, Field field) {
  double coldest = 1e30, largest = 0;
  for (const auto& run : runs) {
    coldest = std::min(coldest, celsius(ambient_of(run->run())));
    largest = std::max(largest, run->largest(field));
  }
  return scale_for(field, coldest, largest);
}

namespace {

// The telling moments of the first run, named as far as there is room.
void draw_slider_marks(Page& page, const View& view) {
  const Box& bar = view.layout.slider;
  page.rectangle({bar.x, bar.centre().y - 2, bar.width, 4}, palette::rule);
  const double last = std::max(1.0, static_cast<double>(view.times.size() - 1));
  const StoredRun& run = view.runs.front()->run();
  const TextStyle style{.size = 13, .colour = palette::quiet_ink};
  double free_from = bar.x - 8;
  for (const Moment& moment : telling_moments(run)) {
    const auto at =
        std::lower_bound(view.times.begin(), view.times.end(), run.frame_times[moment.frame]);
    const double x = bar.x + bar.width * static_cast<double>(at - view.times.begin()) / last;
    page.line({{x, bar.y - 3}, {x, bar.top() + 3}}, {.colour = palette::quiet_ink, .width = 1.5});
    const double wide = Page::text_width(moment.name, style);
    const double left = std::max(free_from, x - 0.5 * wide);
    if (left < x + 4 && left + wide < page.width() - 8) {
      page.text({left, bar.top() + 13}, moment.name, style);
      free_from = left + wide + 14;
    }
  }
}

void draw_slider(Page& page, const View& view) {
  const Box& bar = view.layout.slider;
  const double last = std::max(1.0, static_cast<double>(view.times.size() - 1));
  const double x = bar.x + bar.width * static_cast<double>(view.shown.moment) / last;
  page.disc({x, bar.centre().y}, 9, palette::ink);
  page.disc({x, bar.centre().y}, 6, palette::orange);
  page.text({bar.right() + 22, bar.centre().y}, time_words(view.time()),
            {.size = 17, .bold = true});
}

void draw_titles(Page& page, const View& view) {
  const bool alone = view.runs.size() < 2;
  for (std::size_t n = 0; n < view.runs.size(); ++n) {
    const StoredRun& run = view.runs[n]->run();
    const Box& box = view.layout.panels[n];
    page.frame(box, {.colour = palette::quiet_ink, .width = 1});
    // Two titles share the whole width of the page.
    const double room = alone ? page.width() - 2 * box.x : 0.5 * page.width() - 24;
    const double left = alone || n == 0 ? box.x : 0.5 * page.width() + 8;
    const std::string side = alone ? "" : n == 0 ? "Left: " : "Right: ";
    const double top = page.height() - 10;
    const double below = top - 4 -
                         page.paragraph({left, top}, side + title_of(run),
                                        {.size = 19, .bold = true}, room, alone ? 26 : 40, 13);
    page.paragraph(
        {left, below},
        (run.complete ? "" : "Run cut short; what was stored until then. ") + verdict_of(run),
        {.size = 14}, room, below - box.top() - 4, 11);
  }
}

// "1462 A", or "1462 A | 1668 A" for two runs.
void draw_readings(Page& page, const View& view) {
  std::vector<Row> rows;
  const auto add = [&](const char* name, const char* series, auto&& words) {
    std::string values;
    bool known = false;
    for (std::size_t n = 0; n < view.runs.size(); ++n) {
      const StoredRun& run = view.runs[n]->run();
      const auto value = value_at(run, series, run.frame_times[view.frame(n)]);
      values += (values.empty() ? "" : "  |  ") + (value ? words(*value) : std::string("\u2013"));
      known = known || value;
    }
    if (known) {
      rows.push_back({name, values});
    }
  };
  add("current", "current", [](double a) { return short_number(a) + " A"; });
  add("joint", "faying_temperature", celsius_words);
  add("inner wall", "inner_wall_temperature", celsius_words);
  add("nugget", "nugget_diameter", millimetre_words);
  const Box& scale = view.layout.scale;
  const double left = scale.right() + 72;
  const double below =
      draw_table(page, view.runs.size() < 2 ? "At this moment" : "At this moment, left | right",
                 rows, {left, scale.top()}, std::max(60.0, view.layout.curve.right() + 50 - left));
  const double y = below - 24;
  const bool room = y > std::max(view.layout.profile.top(), view.layout.curve.top()) + 46;
  if (room && view.shown.isotherm && view.shown.field == Field::temperature) {
    page.line({{left, y}, {left + 26, y}}, {.width = 2.4});
    page.text({left + 34, y}, fmt::format("isotherm {:.0f} \u00b0C", view.shown.level),
              {.size = 14});
  }
}

}  // namespace

void draw_sections(Page& page, const View& view) {
  for (std::size_t n = 0; n < view.runs.size(); ++n) {
    view.runs[n]->draw_section(page, view.sight(n), view.frame(n), view.shown, view.scale);
  }
}

void draw_around_sections(Page& page, const View& view) {
  draw_titles(page, view);
  draw_slider_marks(page, view);
  draw_slider(page, view);
  draw_upright_scale(page, view.scale, view.layout.scale);
  draw_readings(page, view);
}

}  // namespace tabmelt::pictures
