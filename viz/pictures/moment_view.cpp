#include "viz/pictures/moment_view.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/words/in_words.h"
#include "viz/drawing/words.h"
#include "viz/pictures/outlines.h"
#include "viz/pictures/parts.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

MomentLayout::MomentLayout(double width, double height, std::size_t runs, Probed probed,
                           double buttons) {
  constexpr double gap = 8, below_slider = 26, above_current = 22, readings = 24;
  slider = {margin + 8, margin + buttons + below_slider,
            std::max(50.0, width - 2 * margin - 16 - 100), 14};
  const bool low = height < 640;
  current = {slider.x, slider.top() + 2, slider.width, low ? 22.0 : 34.0};
  const double bottom = current.top() + above_current;
  // Two runs share the width, so their titles need the height.
  const double titles = runs > 1 ? 112 : low ? 62 : 78;
  const double top = height - titles - readings;
  const double side = std::clamp(0.31 * width, 228.0, 330.0);
  const double room = std::max(60.0, width - 2 * margin - side - gap);
  const auto count = static_cast<double>(std::max<std::size_t>(runs, 1));
  for (std::size_t n = 0; n < runs; ++n) {
    const double wide = (room - gap * (count - 1)) / count;
    panels.push_back({margin + static_cast<double>(n) * (wide + gap), bottom, wide,
                      std::max(60.0, top - bottom)});
  }
  const double left = margin + room + gap, all = top - bottom;
  // A low page has room for one diagram: the line's.
  const bool both = probed.line && !low;
  const double diagrams = (both                            ? 0.64
                           : !probed.line && !probed.place ? 0
                           : low                           ? 0.6
                                                           : 0.48) *
                          all;
  scale = {left + scale_numbers, bottom + diagrams + (diagrams > 0 ? 12 : 0), 20, 0};
  scale.height = std::max(40.0, top - 6 - scale.y);
  marks_room = side - scale_numbers - scale.width - 2;
  if (diagrams == 0) {
    return;
  }
  // Above each diagram stand its place and quantity, below it its labels.
  const double above = low ? 40 : 44, below = 44;
  const double each = diagrams / (both ? 2 : 1);
  const double plot_width = std::max(40.0, side - 110);
  const double plot_height = std::max(24.0, each - above - below);
  const Box lowest{left + 46, bottom + below, plot_width, plot_height};
  if (both || !probed.line) {
    curve = lowest;
  }
  if (probed.line) {
    profile = {lowest.x, both ? lowest.y + each : lowest.y, plot_width, plot_height};
  }
}

double first_isotherm(const StoredRun& run) { return celsius(top_solidus(run).value_or(1728)); }

ShownRun::ShownRun(const StoredRun& run)
    : run_((require_mesh(run), run)),
      section_(run, regions_inside(run, whole(run)), whole(run)),
      moving_(run, regions_inside(run, whole(run)), whole(run)),
      outlines_(part_outlines(run, whole(run), touching_radius(run, {}))) {}

const std::vector<float>& ShownRun::values(std::size_t frame, Field field) {
  return kept(frames_, {frame, field}, [&] { return cell_values(frame_of(run_, frame), field); });
}

const std::vector<float>& ShownRun::history(std::size_t cell, Field field) {
  return kept(histories_, {cell, field}, [&] {
    if (run_.history) return shown_values(field, run_.history(stored_field(field), cell));
    std::vector<float> course;
    for (std::size_t frame = 0; frame < run_.frame_times.size(); ++frame) {
      if (const auto& all = values(frame, field); !all.empty()) course.push_back(all[cell]);
    }
    return course;
  });
}

double ShownRun::largest(Field field) {
  double largest = 0;
  for (const Moment& moment : telling_moments(run_)) {
    const std::vector<float>& all = values(moment.frame, field);
    for (std::size_t cell = 0; cell < all.size(); ++cell) {
      if (run_.region[cell] != mesh::empty) {
        largest = std::max(largest, static_cast<double>(all[cell]));
      }
    }
  }
  return largest;
}

std::vector<float> ShownRun::at_nodes(std::size_t frame, Field field) {
  std::vector<float> all = section_.at_nodes(values(frame, field));
  // What is drawn on to the surfaces could leave the range of a field that ends inside.
  if (field == Field::liquid_fraction || field == Field::current_density) {
    const float most = field == Field::liquid_fraction ? 1 : std::numeric_limits<float>::max();
    for (float& value : all) {
      value = std::clamp(value, 0.0F, most);
    }
  }
  return all;
}

std::vector<Polyline> ShownRun::isotherm(std::size_t frame, double degrees) {
  return section_.contours.lines_at(at_nodes(frame, Field::temperature), degrees);
}

const std::vector<Polyline>& ShownRun::melt(std::size_t frame) {
  return kept(melts_, frame, [&] {
    std::vector<float> kelvin = values(frame, Field::temperature);
    for (float& value : kelvin) {
      value += 273.15F;
    }
    return melt_outline(run_, section_, kelvin, values(frame, Field::liquid_fraction));
  });
}

void ShownRun::draw_section(Page& page, const Sight& sight, std::size_t frame, const Shown& shown,
                            const Scale& scale) {
  const double time = run_.frame_times[frame], touches = touching_radius(run_, time);
  moving_.settle(touches);
  page.rectangle(sight.box, palette::plot);
  draw_bands(page, sight, moving_, at_nodes(frame, shown.field), scale);
  const std::vector<Polyline> surfaces = part_outlines(run_, whole(run_), touches);
  draw_lines(page, sight, surfaces, {.colour = palette::ink, .width = 2.4});
  draw_lines(page, sight, surfaces, {.colour = part_outline, .width = 1.2});
  draw_inner_wall(page, sight, run_);
  draw_touching(page, sight, touching(run_, time));
  if (shown.field == Field::temperature || shown.field == Field::liquid_fraction) {
    draw_melt(page, sight, melt(frame), MeltLine::now);
  }
  if (shown.isotherm && shown.field == Field::temperature) {
    draw_lines(page, sight, isotherm(frame, shown.level), {.colour = palette::ink, .width = 2});
  }
  draw_sparks(page, sight, run_, time);
}

Sight View::sight(std::size_t run) const { return first_sight.in(layout.panels[run]); }

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

Scale common_scale(const ShownRuns& runs, const Shown& shown) {
  if (shown.field == Field::temperature) {
    return temperature_scale(runs.front()->run(), shown.range);
  }
  double largest = 0;
  for (const auto& run : runs) {
    largest = std::max(largest, run->largest(shown.field));
  }
  return scale_for(shown.field, largest);
}

namespace {

double last_moment(const View& view) {
  return std::max(1.0, static_cast<double>(view.times.size() - 1));
}

// Share of the slider at a time, between the moments that are stored.
double slider_share(const View& view, double time) {
  const auto next = std::lower_bound(view.times.begin(), view.times.end(), time);
  if (next == view.times.begin()) return 0;
  if (next == view.times.end()) return 1;
  const double before = *(next - 1);
  const double moment =
      static_cast<double>(next - view.times.begin() - 1) + (time - before) / (*next - before);
  return moment / last_moment(view);
}

// The current over the moments of the slider, and its peak in words.
void draw_current(Page& page, const View& view) {
  const Box& box = view.layout.current;
  const StoredRun& run = view.runs.front()->run();
  const auto peak = peak_of(run, "current");
  page.line({{box.x, box.y}, {box.right(), box.y}}, {.colour = palette::rule, .width = 1});
  if (!peak || !(peak->value > 0)) {
    return;
  }
  const std::vector<double>& time = series_of(run, "time");
  const std::vector<double>& current = series_of(run, "current");
  Polyline floor, line;
  for (std::size_t n = 0; n < time.size(); ++n) {
    if (std::isfinite(current[n])) {
      const double x = box.x + box.width * slider_share(view, time[n]);
      floor.push_back({x, box.y});
      line.push_back({x, box.y + box.height * std::max(0.0, current[n]) / peak->value});
    }
  }
  page.area(floor, line, paler(palette::orange, 0.55));
  page.line(line, {.colour = palette::vermillion, .width = 1.2});
  page.text({box.right() + 12, box.centre().y + 4}, short_number(peak->value) + " A",
            {.size = 13, .colour = palette::quiet_ink});
}

// Times in round numbers below the slider, as far as there is room.
void draw_times(Page& page, const View& view) {
  const Box& bar = view.layout.slider;
  const TextStyle style{.size = 12, .colour = palette::quiet_ink, .align = Align::centre};
  double free_from = bar.x - 30;
  const double first = view.times.size() > 1 ? view.times[1] : 1e-3;
  for (double decade = std::pow(10, std::floor(std::log10(std::max(first, 1e-9))));
       decade <= view.times.back(); decade *= 10) {
    for (const double step : {1.0, 2.0, 5.0}) {
      const double time = step * decade;
      if (time < first || time > view.times.back()) continue;
      const double x = bar.x + bar.width * slider_share(view, time);
      const std::string words = time_words(time);
      const double half = 0.5 * Page::text_width(words, style);
      page.line({{x, bar.y - 1}, {x, bar.y - 5}}, {.colour = palette::quiet_ink, .width = 1});
      if (x - half > free_from && x + half < page.width() - 12) {
        page.text({x, bar.y - 12}, words, style);
        free_from = x + half + 10;
      }
    }
  }
}

// The key moments of the first run, named as far as there is room.
void draw_slider_marks(Page& page, const View& view) {
  const Box& bar = view.layout.slider;
  page.rectangle({bar.x, bar.centre().y - 2, bar.width, 4}, palette::rule);
  const StoredRun& run = view.runs.front()->run();
  const TextStyle style{.size = 13, .colour = palette::quiet_ink};
  const double top = view.layout.current.top();
  double free_from = bar.x - 8;
  for (const Moment& moment : telling_moments(run)) {
    const double x = bar.x + bar.width * slider_share(view, run.frame_times[moment.frame]);
    page.line({{x, bar.y - 1}, {x, top + 2}}, {.colour = palette::quiet_ink, .width = 1.2});
    const double wide = Page::text_width(moment.name, style);
    const double left = std::max(free_from, x - 0.5 * wide);
    if (left < x + 4 && left + wide < page.width() - 8) {
      page.text({left, top + 11}, moment.name, style);
      free_from = left + wide + 14;
    }
  }
}

void draw_slider(Page& page, const View& view) {
  const Box& bar = view.layout.slider;
  const double x = bar.x + bar.width * static_cast<double>(view.shown.moment) / last_moment(view);
  page.line({{x, bar.centre().y}, {x, view.layout.current.top()}},
            {.colour = palette::ink, .width = 1.4});
  page.disc({x, bar.centre().y}, 9, palette::ink);
  page.disc({x, bar.centre().y}, 6, palette::orange);
  page.text({bar.right() + 12, bar.centre().y - 2}, time_words(view.time()),
            {.size = 17, .bold = true});
}

// "1467 A   joint 1817 C   inner can wall 301 C   nugget 0.62 mm" above each section.
std::string readings(const StoredRun& run, double time) {
  std::string line;
  const auto add = [&](const std::string& name, const std::string& series, auto&& words) {
    if (const auto value = value_at(run, series, time)) {
      line += (line.empty() ? "" : "  \u00b7  ") + name + words(*value);
    }
  };
  add("", "current", [](double a) { return short_number(a) + " A"; });
  add("joint ", "faying_temperature", in_words::temperature);
  add(wall_name(run) + " ", "inner_wall_temperature", in_words::temperature);
  add("nugget ", "nugget_diameter", millimetre_words);
  return line;
}

void draw_titles(Page& page, const View& view) {
  const bool alone = view.runs.size() < 2, low = page.height() < 640;
  for (std::size_t n = 0; n < view.runs.size(); ++n) {
    const StoredRun& run = view.runs[n]->run();
    const Box& box = view.layout.panels[n];
    page.frame(box, {.colour = palette::quiet_ink, .width = 1});
    // Two titles share the whole width of the page.
    const double room = alone ? page.width() - 2 * box.x : 0.5 * page.width() - 24;
    const double left = alone || n == 0 ? box.x : 0.5 * page.width() + 8;
    const std::string side = alone ? "" : n == 0 ? "Left: " : "Right: ";
    const double top = page.height() - 8;
    const double below =
        top - 3 -
        page.paragraph({left, top}, side + title_of(run), {.size = low ? 17.0 : 19.0, .bold = true},
                       room, alone ? 26 : 40, 13);
    page.paragraph(
        {left, below},
        (run.complete ? "" : "Run cut short; what was stored until then. ") + verdict_of(run),
        {.size = low ? 13.0 : 14.0}, room, below - box.top() - 26, 11);
    page.paragraph({box.x, box.top() + 21}, readings(run, run.frame_times[view.frame(n)]),
                   {.size = 15, .bold = true}, box.width, 20, 11);
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
  draw_current(page, view);
  draw_slider_marks(page, view);
  draw_times(page, view);
  draw_slider(page, view);
  draw_upright_scale(page, view.scale, view.layout.scale, view.layout.marks_room);
}

void draw_names(Page& page, const View& view) {
  for (std::size_t n = 0; n < view.runs.size(); ++n) {
    draw_part_tags(page, view.sight(n), view.runs[n]->run());
  }
}

}  // namespace tabmelt::pictures
