#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solver/catalogue/catalogue.h"
#include "solver/words/in_words.h"
#include "viz/drawing/diagram.h"
#include "viz/drawing/legends.h"
#include "viz/drawing/words.h"
#include "viz/pictures/over_time.h"
#include "viz/pictures/pictures.h"
#include "viz/pictures/section_panel.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

namespace {

constexpr double panel_bottom = 476, panel_top = 822, gap = 16, widest = 480;

void draw_number(Page& page, Point centre, std::size_t number) {
  page.disc(centre, 13, palette::white);
  page.disc(centre, 11.5, palette::ink);
  page.text({centre.x, centre.y + 0.5}, std::to_string(number),
            {.size = 15, .colour = palette::white, .bold = true, .align = Align::centre});
}

void draw_values(Page& page, const StoredRun& run, double time, const Box& box) {
  double y = box.y - 18;
  const auto add = [&](const std::string& name, const std::string& series) {
    const auto value = value_at(run, series, time);
    if (!value) {
      return;
    }
    const auto limit = series == "inner_wall_temperature" ? inner_wall_limit(run) : std::nullopt;
    page.text({box.x + 8, y}, name, {.size = 15, .colour = palette::quiet_ink});
    page.text({box.right() - 8, y}, in_words::temperature(*value),
              {.size = 15,
               .colour = limit && *value > *limit ? palette::bad : palette::ink,
               .align = Align::right});
    y -= 22;
  };
  add("Hottest point", "peak_temperature");
  add("Joint", "faying_temperature");
  add(in_words::capitalised(wall_name(run)), "inner_wall_temperature");
  if (const auto joules = sparks(run, time)) {
    page.text({box.x + 8, y}, "Sparks so far", {.size = 15, .colour = palette::quiet_ink});
    page.text({box.right() - 8, y}, in_words::energy(*joules),
              {.size = 15, .colour = palette::bad, .align = Align::right});
  }
}

// True if something is molten in it.
bool draw_moment(Page& page, const StoredRun& run, const Moment& moment, std::size_t number,
                 const Box& box, const Window& window, const Scale& scale) {
  const Frame frame = frame_of(run, moment.frame);
  const Sight sight(window, box);
  page.rectangle(box, palette::plot);
  const Section section(run, regions_inside(run, window), window, frame.time);
  draw_field(page, sight, section, shown_values(Field::temperature, frame.temperature), scale);
  draw_parts(page, sight, run, frame.time);
  draw_inner_wall(page, sight, run);
  const auto melt = melt_outline(run, section, frame.temperature, frame.liquid_fraction);
  draw_melt(page, sight, melt, MeltLine::now);
  draw_touching(page, sight, touching(run, frame.time));
  draw_number(page, {box.x + 13, box.top() + 27}, number);
  page.text({box.x + 34, box.top() + 38}, in_words::capitalised(moment.name),
            {.size = 16, .bold = true, .room = box.width - 34});
  page.text({box.x + 34, box.top() + 16}, "t = " + time_words(frame.time),
            {.size = 15, .colour = palette::quiet_ink});
  draw_values(page, run, frame.time, box);
  return !melt.empty();
}

// Temperatures over the run with the current behind them and the moments marked.
void draw_time_line(Page& page, const StoredRun& run, const std::vector<Moment>& moments) {
  const std::vector<double>& time = series_of(run, "time");
  if (time.size() < 2) {
    return;
  }
  Panel panel = panel_of(run, "Temperature [\u00b0C]",
                         {{"peak_temperature", "hottest point", palette::black},
                          {"faying_temperature", "joint", palette::vermillion},
                          {"inner_wall_temperature", wall_name(run), palette::blue}},
                         celsius);
  const Abscissa axis = heat_axis(run);
  const Box box{page_margin + 62, body_bottom + 56, page_width - 2 * page_margin - 62 - 150, 170};
  const auto peak = peak_of(run, "current");
  if (peak && peak->value > 0) {
    panel.title += fmt::format("; shaded: the current, peak {} A", short_number(peak->value));
  }
  draw_panel(page, panel, axis, box, true);
  if (peak && peak->value > 0) {
    Polyline floor, current;
    const std::vector<double>& amperes = series_of(run, "current");
    for (std::size_t n = 0; n < time.size(); ++n) {
      if (time[n] <= axis.last() && std::isfinite(amperes[n])) {
        const double x = box.x + box.width * std::clamp(axis.share(time[n]), 0.0, 1.0);
        floor.push_back({x, box.y});
        current.push_back({x, box.y + 0.9 * box.height * std::max(0.0, amperes[n]) / peak->value});
      }
    }
    page.area(floor, current, faded(palette::orange, 0.22));
  }
  std::vector<double> places;
  for (const Moment& moment : moments) {
    places.push_back(box.x +
                     box.width * std::clamp(axis.share(run.frame_times[moment.frame]), 0.0, 1.0));
  }
  const std::vector<double> spaced = spread(places, 28, box.x + 14, box.right() - 14);
  for (std::size_t n = 0; n < moments.size(); ++n) {
    page.line({{places[n], box.y}, {places[n], box.top() - 40}, {spaced[n], box.top() - 18}},
              {.colour = palette::ink, .width = 1.2, .dash = 3});
    draw_number(page, {spaced[n], box.top() - 18}, n + 1);
  }
}

}  // namespace

Page moments_picture(const StoredRun& run, const std::optional<TemperatureRange>& range) {
  require_mesh(run);
  const std::vector<Moment> moments = telling_moments(run);
  if (moments.empty()) {
    throw PictureError("the result holds no frames to draw");
  }
  const auto count = static_cast<double>(moments.size());
  const double room = page_width - 2 * page_margin;
  const double width = std::min(widest, (room - gap * (count - 1)) / count);
  const double left = page_margin + 0.5 * (room - count * width - gap * (count - 1));
  const Window window = window_around_spot(run, width / (panel_top - panel_bottom));
  const Scale scale = temperature_scale(run, range);
  Page page(page_width, page_height);
  draw_head_and_foot(page, run, "Moments of the weld", "temperature in the spot");
  bool molten = false;
  for (std::size_t n = 0; n < moments.size(); ++n) {
    const Box box{left + static_cast<double>(n) * (width + gap), panel_bottom, width,
                  panel_top - panel_bottom};
    molten |= draw_moment(page, run, moments[n], n + 1, box, window, scale);
  }
  draw_flat_scale(page, scale, {page_margin + 330, 334, 860, 18});
  const Sight first(window, {left, panel_bottom, width, panel_top - panel_bottom});
  // Left of the temperature scale's title.
  draw_scale_bar(page, {page_margin, 348}, std::min(0.5 * width, 170.0), first.page_per_mm);
  if (molten) {
    draw_melt_sample(page, {page_width - page_margin - 190, 361}, 40, MeltLine::now);
    page.text({page_width - page_margin - 134, 361}, "molten", {.size = 15});
  }
  const double x = page_width - page_margin - 194;
  draw_inner_wall_sample(page, {x, 337}, 48);
  page.text({x + 60, 337}, wall_name(run), {.size = 15, .room = 134});
  draw_time_line(page, run, moments);
  return page;
}

}  // namespace tabmelt::pictures
