#include "viz/window/probe.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "viz/drawing/words.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::window {

namespace {

constexpr Colour run_colours[] = {palette::vermillion, palette::blue};
constexpr std::size_t profile_points = 241;

std::string side_of(const View& view, std::size_t run) {
  return view.runs.size() < 2 ? "" : run == 0 ? "left" : "right";
}

// "Insulating disc, r 0.10 mm, z -0.35 mm"
std::string place_words(const View& view, const ViewState& state) {
  const Point at = *state.probe;
  std::string part = part_at(view.runs.front()->run(), at);
  if (part.empty()) {
    part = "beside the parts";
  }
  part[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(part[0])));
  return fmt::format("{}, r {:.2f} mm, z {:.2f} mm", part, std::abs(at.x), at.y + 0.0);
}

void draw_heading(Page& page, const Box& box, const std::string& words, double room) {
  page.paragraph({box.x - 46, box.top() + 42}, words, {.size = 15, .bold = true}, room, 18, 11);
}

double heading_room(const Box& diagram) { return diagram.width + 46 + 64; }

// The probed place over the whole run.
void draw_curve(Page& page, const View& view, const ViewState& state) {
  const Box& box = view.layout.curve;
  Panel panel{.title = field_title(view.shown.field), .abscissa = view.times};
  panel.label_room = 64;
  for (std::size_t n = 0; n < view.runs.size(); ++n) {
    ShownRun& shown = *view.runs[n];
    const auto cell = cell_at(shown.run(), *state.probe);
    if (!cell) {
      continue;
    }
    const std::vector<double>& own = shown.run().frame_times;
    const std::vector<float>& course = shown.history(*cell, view.shown.field);
    Curve curve{side_of(view, n), {}, {.colour = run_colours[n % 2], .width = 2.2}};
    for (const double time : view.times) {
      const std::size_t frame = nearest_frame(shown.run(), time);
      const bool covered = time <= own.back() * (1 + 1e-9) && frame < course.size();
      curve.values.push_back(covered ? course[frame] : NAN);
    }
    panel.curves.push_back(std::move(curve));
  }
  draw_heading(page, box, place_words(view, state), heading_room(box));
  if (panel.curves.empty() || view.times.size() < 2) {
    return;
  }
  draw_panel(page, panel, curve_axis(view.runs.front()->run(), view.times), box, true);
}

// Where in a diagram the moment or place lies that is shown.
void draw_cursor(Page& page, const Box& box, double share) {
  const double x = box.x + share * box.width;
  page.line({{x, box.y}, {x, box.top()}}, {.colour = palette::ink, .width = 1.2, .dash = 5});
}

// Where a place shows in a panel; without the mirrored half, the right one shows it.
Point on_panel(const Sight& sight, Point mm) {
  return sight.at_mm(sight.mirror ? mm.x : std::abs(mm.x), mm.y);
}

// The place as a dot with its part and value beside it.
void draw_place(Page& page, const View& view, const ViewState& state, std::size_t n) {
  ShownRun& shown = *view.runs[n];
  const Box& box = view.layout.panels[n];
  const Point pixel = on_panel(view.sight(n), *state.probe);
  const auto cell = cell_at(shown.run(), *state.probe);
  const auto& now = shown.values(view.frame(n), view.shown.field);
  if (!box.contains(pixel)) {
    return;
  }
  if (cell && !now.empty()) {
    const std::string words = fmt::format("{}: {} {}", part_at(shown.run(), *state.probe),
                                          short_number(now[*cell]), unit_of(view.shown.field));
    const TextStyle style{.size = 14, .bold = true};
    const double wide = Page::text_width(words, style) + 16;
    const bool room_right = pixel.x + 14 + wide < box.right();
    const Box tag{room_right ? pixel.x + 12 : pixel.x - 12 - wide,
                  std::clamp(pixel.y + 8, box.y + 2, box.top() - 24), wide, 22};
    page.rectangle(tag, faded(palette::white, 0.92));
    page.frame(tag, {.colour = run_colours[n % 2], .width = 1.2});
    page.text({tag.x + 8, tag.centre().y}, words, style);
  }
  page.disc(pixel, 6.5, palette::white);
  page.disc(pixel, 4.5, run_colours[n % 2]);
}

void draw_line(Page& page, const View& view, const ViewState& state, std::size_t n) {
  const Box& box = view.layout.panels[n];
  const Sight sight = view.sight(n);
  const Point from = sight.at_mm(state.line->from.x, state.line->from.y);
  const Point to = sight.at_mm(state.line->to.x, state.line->to.y);
  page.line({from, to}, {.colour = palette::ink, .width = 4}, box);
  page.line({from, to}, {.colour = palette::white, .width = 2}, box);
  for (const auto& [end, name] : {std::pair{from, "A"}, {to, "B"}}) {
    if (box.contains(end)) {
      page.disc(end, 9, palette::ink);
      page.text(end, name,
                {.size = 13, .colour = palette::white, .bold = true, .align = Align::centre});
    }
  }
}

// Names of the parts the line passes, where there is room, and marks between them.
void draw_parts_passed(Page& page, const StoredRun& run, const std::vector<Stretch>& stretches,
                       const Box& box) {
  for (std::size_t k = 0; k < stretches.size();) {
    std::size_t last = k;
    while (last + 1 < stretches.size() && stretches[last + 1].part == stretches[k].part &&
           stretches[last + 1].begin - stretches[last].end < 1e-6) {
      ++last;
    }
    const double from = box.x + box.width * stretches[k].begin;
    const double to = box.x + box.width * stretches[last].end;
    for (const double x : {from, to}) {
      page.line({{x, box.y}, {x, box.top()}},
                {.colour = palette::quiet_ink, .width = 0.8, .dash = 3});
    }
    const std::string name = pictures::name_of(run, stretches[k].part);
    const TextStyle style{.size = 12, .colour = palette::quiet_ink, .align = Align::centre};
    if (Page::text_width(name, style) + 4 < to - from) {
      page.text({0.5 * (from + to), box.top() - 9}, name, style);
    }
    k = last + 1;
  }
}

void draw_profile(Page& page, const View& view, const ViewState& state) {
  const ProbeLine& line = *state.line;
  const Box& box = view.layout.profile;
  const double length = line.length();
  if (!(length > 0)) {
    return;
  }
  Panel panel{.title = field_title(view.shown.field), .abscissa = {}};
  panel.label_room = 64;
  for (std::size_t k = 0; k < profile_points; ++k) {
    panel.abscissa.push_back(length * static_cast<double>(k) / (profile_points - 1));
  }
  // The axis stays as it is while time passes.
  double reach = view.shown.field == Field::temperature ? 0 : view.scale.edges.back();
  std::vector<std::vector<Stretch>> passed;
  for (std::size_t n = 0; n < view.runs.size(); ++n) {
    ShownRun& shown = *view.runs[n];
    passed.push_back(stretches_along(shown.run(), line));
    const auto& now = shown.values(view.frame(n), view.shown.field);
    if (!now.empty() && !passed[n].empty()) {
      panel.curves.push_back({side_of(view, n),
                              profile(passed[n], now, profile_points),
                              {.colour = run_colours[n % 2], .width = 2.2}});
    }
    if (view.shown.field == Field::temperature && !shown.run().peak_temperature.empty()) {
      for (const Stretch& stretch : passed[n]) {
        reach = std::max(reach, celsius(shown.run().peak_temperature[stretch.cell]));
      }
    }
  }
  panel.reach = reach;
  draw_heading(page, box, "Along the line from A to B", heading_room(box));
  draw_panel(page, panel, Abscissa::along(length), box, true);
  draw_parts_passed(page, view.runs.front()->run(), passed.front(), box);
  const double share =
      std::hypot(state.probe->x - line.from.x, state.probe->y - line.from.y) / length;
  draw_cursor(page, box, share);
}

}  // namespace

Abscissa curve_axis(const StoredRun& first, const std::vector<double>& times) {
  return Abscissa::over_run(times, pulse_end_of(first, 0.2));
}

void draw_probe(Page& page, const View& view, const ViewState& state) {
  if (state.line) {
    draw_profile(page, view, state);
  }
  if (state.probe) {
    if (view.layout.curve.width > 0) {
      draw_curve(page, view, state);
      const double now = curve_axis(view.runs.front()->run(), view.times).share(view.time());
      if (now >= 0 && now <= 1) draw_cursor(page, view.layout.curve, now);
    }
  } else if (!state.solid) {
    const TextStyle quiet{.size = 13, .colour = palette::quiet_ink};
    const std::string words = "click: a place over time  \u00b7  drag: the profile along a line";
    const Box& panel = view.layout.panels.front();
    const double wide = Page::text_width(words, quiet) + 16;
    const Box tag{panel.right() - wide - 2, panel.y + 2, wide, 20};
    page.rectangle(tag, faded(palette::white, 0.85));
    page.text({tag.x + 8, tag.centre().y}, words, quiet);
  }
  for (std::size_t n = 0; n < view.runs.size() && !state.solid; ++n) {
    if (state.line) {
      draw_line(page, view, state, n);
    }
    if (state.probe) {
      draw_place(page, view, state, n);
    }
  }
}

}  // namespace tabmelt::window
