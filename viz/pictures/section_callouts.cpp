// What a section panel says of the weld: the limit that binds, and sparks.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "solver/words/in_words.h"
#include "viz/drawing/words.h"
#include "viz/pictures/section_panel.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

namespace {

constexpr Colour spark_colour{0.95, 0.55, 0.05};

// Rungs of the ladder below "fused": what they say of a good bond is said by that.
bool is_lower_rung(const StoredFinding& f) {
  return f.key == "no_bond" || f.key == "stuck" || f.key == "small_nugget";
}

// "0.62 mm, limit 0.79 mm: 22 % left"
std::string against(const StoredFinding& f) {
  const std::string value = in_words::quantity(f.value, f.unit);
  const std::string limit = in_words::quantity(f.limit, f.unit);
  const std::string share = fmt::format("{:.0f} %", 100 * std::min(std::abs(f.margin), 9.99));
  const bool wanted = f.key == "fused" || is_lower_rung(f);
  if (wanted) {
    return fmt::format("{}, {} wanted: {} {}", value, limit, share,
                       f.margin >= 0 ? "to spare" : "short");
  }
  return fmt::format("{}, limit {}: {} {}", value, limit, share, f.margin > 0 ? "left" : "over");
}

// Where the finding happened, on the right half: a diameter at its edge.
Point place_of(const StoredFinding& f) {
  const bool across =
      f.unit == "m" && (f.key == "fused" || f.key == "small_nugget" || f.key == "expulsion");
  return {across ? 0.5 * f.value : f.r, f.z};
}

// The worst that happened or, if all is well, the one closest to its limit; null if there is none.
const StoredFinding* binding_finding(const StoredRun& run) {
  const StoredFinding* binding = nullptr;
  for (const StoredFinding& f : run.findings) {
    if (f.holds && f.key != "fused") return &f;  // the worst that happened stands first
    if (is_lower_rung(f)) continue;
    if (binding == nullptr || f.margin < binding->margin) binding = &f;
  }
  return binding;
}

struct Callout {
  std::array<std::string, 3> lines;  // heading, number, judgement
  Colour colour;                     // of heading's rule and judgement
  std::optional<Point> place;        // (r, z) [m]
};

Callout of_finding(const StoredFinding& f) {
  const bool bad = f.margin <= 0 || (f.holds && f.key != "fused");
  const std::string name = in_words::capitalised(f.words);
  return {{bad                ? name
           : f.key == "fused" ? "Tightest: size of the nugget"
                              : "Tightest limit: " + f.words,
           in_words::capitalised(f.quantity), against(f)},
          bad ? palette::bad : palette::good,
          place_of(f)};
}

// Without findings, the hottest of the cell's wall.
std::optional<Callout> of_wall(const StoredRun& run) {
  const auto wall = lowest_sheet(run);
  const auto peak = peak_of(run, "inner_wall_temperature");
  if (!wall || !peak) return std::nullopt;
  const auto limit = inner_wall_limit(run);
  const bool over = limit && peak->value > *limit;
  return Callout{
      {in_words::capitalised(wall_name(run)),
       fmt::format("peak {} at {}", in_words::temperature(peak->value), time_words(peak->time)),
       limit
           ? fmt::format("limit {}: {}", in_words::temperature(*limit), over ? "exceeded" : "kept")
           : std::string("no limit given")},
      !limit ? palette::quiet_ink
      : over ? palette::bad
             : palette::good,
      Point{0, wall->low}};
}

void draw_callout(Page& page, const Sight& sight, const Callout& callout) {
  const std::array<TextStyle, 3> styles{
      TextStyle{.size = 16, .bold = true}, TextStyle{.size = 15},
      TextStyle{.size = 15, .colour = callout.colour, .bold = true}};
  double width = 0;
  for (std::size_t n = 0; n < 3; ++n) {
    width = std::max(width, Page::text_width(callout.lines[n], styles[n]));
  }
  const Box& panel = sight.box;
  constexpr double height = 80;
  width = std::min(width + 34, panel.width - 36);
  // Below the sheets, where it is cold, unless its place lies there.
  std::optional<Point> at;
  if (callout.place) {
    at = sight.at(callout.place->x, callout.place->y);
    at->x = std::clamp(at->x, panel.x + 8, panel.right() - 8);
  }
  const bool below = !at || at->y > panel.y + height + 34;
  const Box box{panel.right() - width - 18, below ? panel.y + 18 : panel.top() - height - 18, width,
                height};
  if (at && at->y >= panel.y && at->y <= panel.top()) {
    const Point from{std::clamp(at->x + 60, box.x + 24, box.right() - 24),
                     below ? box.top() : box.y};
    page.line({from, *at}, {.colour = palette::white, .width = 4.5});
    page.line({from, *at}, {.colour = palette::ink, .width = 1.6});
    page.disc(*at, 6, palette::white);
    page.disc(*at, 4, callout.colour);
  }
  page.rectangle(box, faded(palette::white, 0.95));
  page.rectangle({box.x, box.y, 6, box.height}, callout.colour);
  page.frame(box, {.colour = palette::ink, .width = 1});
  for (std::size_t n = 0; n < 3; ++n) {
    TextStyle style = styles[n];
    style.room = box.width - 28;
    page.text({box.x + 18, box.top() - 17 - 23 * static_cast<double>(n)}, callout.lines[n], style);
  }
}

// Surfaces whose bridges burst; the joint if boiling metal alone was thrown off.
std::vector<Touching> sparking_surfaces(const StoredRun& run, const std::optional<double>& time) {
  std::vector<Touching> all = touching(run, {}), burst;
  for (const Touching& surface : all) {
    if (scalar_of(run, surface.key + "_burst_share").value_or(0) > 0) burst.push_back(surface);
  }
  if (burst.empty() && all.size() > 1) burst.push_back(all[1]);
  const std::vector<Touching> now = time ? touching(run, time) : all;
  for (Touching& surface : burst) {
    for (const Touching& other : now) {
      if (other.key == surface.key) surface.radius = other.radius;
    }
  }
  return burst;
}

void draw_rays(Page& page, Point from, double side, const Page::Clip& clip) {
  for (const double degrees : {8.0, 27.0, 50.0, -14.0, -33.0}) {
    const double angle = degrees * M_PI / 180, reach = 30 + 8 * std::cos(3 * angle);
    const auto at = [&](double length) {
      return Point{from.x + side * length * std::cos(angle), from.y + length * std::sin(angle)};
    };
    page.line({at(7), at(reach)}, {.colour = palette::ink, .width = 4.6}, clip);
    page.line({at(8), at(reach - 1)}, {.colour = spark_colour, .width = 2.6}, clip);
  }
}

}  // namespace

std::optional<double> sparks(const StoredRun& run, const std::optional<double>& time) {
  const auto peak = peak_of(run, "energy_expelled");
  const auto joules = time   ? value_at(run, "energy_expelled", *time)
                      : peak ? std::optional(peak->value)
                             : std::nullopt;
  constexpr double least = 1e-4;
  return joules && *joules > least ? joules : std::nullopt;
}

void draw_sparks(Page& page, const Sight& sight, const StoredRun& run,
                 const std::optional<double>& time) {
  const auto joules = sparks(run, time);
  const std::vector<Touching> surfaces = sparking_surfaces(run, time);
  if (!joules || surfaces.empty()) {
    return;
  }
  for (const Touching& surface : surfaces) {
    draw_rays(page, sight.at(surface.radius, surface.z), 1, sight.box);
    draw_rays(page, sight.at(-surface.radius, surface.z), -1, sight.box);
  }
  const Touching& top = surfaces.front();
  const std::string words =
      fmt::format("Sparks {}: {}", time ? "so far" : "in all", in_words::energy(*joules));
  const TextStyle style{.size = 15, .bold = true};
  const double wide = Page::text_width(words, style) + 20;
  const Point edge = sight.at(top.radius, top.z);
  // Beside the tip, above the strip, where nothing else is drawn.
  const auto strip = top_sheet(run);
  const double surface = strip ? sight.at(0, strip->high).y : edge.y;
  const Box box{sight.box.right() - wide - 14, std::min(surface + 16, sight.box.top() - 40), wide,
                26};
  page.line({{edge.x + 40, edge.y + 14}, {box.x, box.centre().y}},
            {.colour = palette::ink, .width = 1.2}, sight.box);
  page.rectangle(box, faded(palette::white, 0.95));
  page.frame(box, {.colour = deeper(spark_colour, 0.25), .width = 1.5});
  page.text({box.x + 10, box.centre().y}, words, style);
}

void draw_binding_limit(Page& page, const Sight& sight, const StoredRun& run) {
  if (const StoredFinding* const f = binding_finding(run)) {
    draw_callout(page, sight, of_finding(*f));
  } else if (const auto wall = of_wall(run)) {
    draw_callout(page, sight, *wall);
  }
}

}  // namespace tabmelt::pictures
