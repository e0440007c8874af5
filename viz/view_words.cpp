#include "viz/view_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/section_panel.h"
#include "viz/stored_values.h"
#include "viz/time_panel.h"

namespace tabmelt {

namespace {

constexpr Colour run_colours[] = {palette::vermillion, palette::blue};

std::string unit_of(Field field) {
  switch (field) {
    case Field::temperature:
      return "\u00b0C";
    case Field::potential:
      return "mV";
    case Field::current_density:
      return "A/mm\u00b2";
    case Field::liquid_fraction:
      break;
  }
  return "1";
}

void draw_buttons(Page& page, const View& view) {
  for (const ViewLayout::Button& button : view.layout.buttons) {
    const bool on = is_on(button.control->action, view.state);
    page.rectangle(button.box, on ? palette::ink : palette::white);
    page.frame(button.box, {.colour = palette::quiet_ink, .width = 1});
    page.text(button.box.centre(), button.control->button,
              {.size = 14, .colour = on ? palette::white : palette::ink, .align = Align::centre});
  }
}

void draw_slider_marks(Page& page, const View& view) {
  const Box& bar = view.layout.slider;
  page.rectangle({bar.x, bar.centre().y - 2, bar.width, 4}, palette::rule);
  const double last = std::max(1.0, static_cast<double>(view.times.size() - 1));
  for (const Moment& moment : telling_moments(view.runs.front().panel->run())) {
    const double time = view.runs.front().panel->run().frame_times[moment.frame];
    const auto at = std::lower_bound(view.times.begin(), view.times.end(), time);
    const double x = bar.x + bar.width * static_cast<double>(at - view.times.begin()) / last;
    page.line({{x, bar.y - 3}, {x, bar.top() + 3}}, {.colour = palette::quiet_ink, .width = 1.5});
  }
}

void draw_slider(Page& page, const View& view) {
  const Box& bar = view.layout.slider;
  const double last = std::max(1.0, static_cast<double>(view.times.size() - 1));
  const double x = bar.x + bar.width * static_cast<double>(view.state.moment) / last;
  page.disc({x, bar.centre().y}, 9, palette::ink);
  page.disc({x, bar.centre().y}, 6, palette::orange);
  page.text({bar.right() + 22, bar.centre().y}, time_words(view.times[view.state.moment]),
            {.size = 17, .bold = true});
}

void draw_titles(Page& page, const View& view) {
  for (std::size_t n = 0; n < view.runs.size(); ++n) {
    const StoredRun& run = view.runs[n].panel->run();
    const Box& box = view.layout.panels[n];
    page.frame(box, {.colour = palette::quiet_ink, .width = 1});
    const double room = view.runs.size() > 1 ? box.width : page.width() - 2 * box.x;
    const TextStyle title{.size = 19, .bold = true};
    for (const std::string& line : wrapped(title_of(run), title, room, 1)) {
      page.text({box.x, page.height() - 24}, line, title);
    }
    const FittedText verdict = fitted(verdict_of(run), {.size = 14}, room, 40, 9);
    double y = page.height() - 46;
    for (const std::string& line : verdict.lines) {
      page.text({box.x, y}, line, verdict.style);
      y -= verdict.pitch;
    }
  }
}

TimeAxis curve_axis(const View& view) {
  return TimeAxis::over_run(view.times, pulse_end_of(view.runs.front().panel->run(), 0.2));
}

// The probed place over the whole run.
void draw_curve(Page& page, const View& view) {
  const Box& box = view.layout.curve;
  if (!view.state.probe && !view.state.buttons) {
    return;
  }
  if (!view.state.probe) {
    page.text({box.x - 46, box.top() + 12}, "Click on the section to follow a place over time",
              {.size = 13, .colour = palette::quiet_ink});
    return;
  }
  const Point at = *view.state.probe;
  Panel panel{.title = fmt::format("{} at r {:.2f}, z {:.2f} mm [{}]", field_name(view.state.field),
                                   at.x, at.y, unit_of(view.state.field)),
              .time = view.times,
              .curves = {},
              .limits = {}};
  panel.label_room = 40;
  for (std::size_t n = 0; n < view.runs.size(); ++n) {
    ViewPanel& shown = *view.runs[n].panel;
    const auto cell = shown.cell_at(at);
    if (!cell) {
      continue;
    }
    const std::vector<double>& own = shown.run().frame_times;
    Curve curve{view.runs.size() < 2 ? ""
                : n == 0             ? "left"
                                     : "right",
                {},
                {.colour = run_colours[n % 2], .width = 2.2}};
    for (const double time : view.times) {
      const bool covered = time <= own.back() * (1 + 1e-9);
      const auto& values = shown.values(nearest_frame(shown.run(), time), view.state.field);
      curve.values.push_back(covered && !values.empty() ? values[*cell] : NAN);
    }
    panel.curves.push_back(std::move(curve));
  }
  if (panel.curves.empty() || view.times.size() < 2) {
    return;
  }
  draw_panel(page, panel, curve_axis(view), box, true);
}

// The moment shown, on the curve, in numbers and on the section.
void draw_curve_now(Page& page, const View& view) {
  if (!view.state.probe || view.times.size() < 2) {
    return;
  }
  const Box& box = view.layout.curve;
  const double share = curve_axis(view).share(view.times[view.state.moment]);
  if (share >= 0 && share <= 1) {
    const double x = box.x + share * box.width;
    page.line({{x, box.y}, {x, box.top()}}, {.colour = palette::ink, .width = 1.2, .dash = 5});
  }
  double y = box.top() - 14;
  for (std::size_t n = 0; n < view.runs.size(); ++n) {
    ViewPanel& shown = *view.runs[n].panel;
    const auto cell = shown.cell_at(*view.state.probe);
    const auto& now = shown.values(view.runs[n].frame, view.state.field);
    if (!cell || now.empty()) {
      continue;
    }
    page.text({box.x + 8, y},
              fmt::format("now {} {}", short_number(now[*cell]), unit_of(view.state.field)),
              {.size = 14, .colour = deeper(run_colours[n % 2], 0.25), .bold = true});
    y -= 18;
    if (!view.state.solid) {
      const Point pixel = shown.pixel_of(*view.state.probe);
      page.disc(pixel, 6, palette::white);
      page.disc(pixel, 4, run_colours[n % 2]);
    }
  }
}

void draw_readings(Page& page, const View& view) {
  std::vector<Row> rows;
  for (std::size_t n = 0; n < view.runs.size(); ++n) {
    const StoredRun& run = view.runs[n].panel->run();
    const double time = run.frame_times[view.runs[n].frame];
    const std::string whose = view.runs.size() > 1 ? (n == 0 ? "left " : "right ") : "";
    const auto add = [&](const char* name, const char* series, auto&& words) {
      if (const auto value = value_at(run, series, time)) {
        rows.push_back({whose + name, words(*value)});
      }
    };
    add("current", "current", [](double a) { return short_number(a) + " A"; });
    add("joint", "faying_temperature", celsius_words);
    add("inner wall", "inner_wall_temperature", celsius_words);
    add("nugget", "nugget_diameter", millimetre_words);
  }
  const Box& scale = view.layout.scale;
  const double left = scale.right() + 72;
  draw_table(page, "At this moment", rows, {left, scale.top()},
             std::max(60.0, view.layout.curve.right() + 50 - left));
  if (view.state.isotherm && view.state.field == Field::temperature) {
    page.line({{left, scale.y + 6}, {left + 26, scale.y + 6}}, {.width = 2.4});
    page.text({left + 34, scale.y + 6}, fmt::format("isotherm {:.0f} \u00b0C", view.state.level),
              {.size = 14});
  }
}

void draw_help(Page& page) {
  const double height = 58 + 21 * static_cast<double>(controls().size() + 2);
  const Box box{0.5 * (page.width() - 470), 0.5 * (page.height() - height), 470, height};
  page.rectangle(box, palette::paper);
  page.frame(box, {.width = 2});
  page.text({box.x + 24, box.top() - 28}, "What the keys do", {.size = 18, .bold = true});
  double y = box.top() - 58;
  const auto row = [&](const std::string& key, const std::string& words) {
    page.text({box.x + 24, y}, key, {.size = 15, .bold = true});
    page.text({box.x + 110, y}, words, {.size = 15});
    y -= 21;
  };
  for (const Control& control : controls()) {
    row(control.shown, control.help);
  }
  row("mouse", "click: follow a place; wheel: nearer, further;");
  row("", "middle button: shift; in 3-D left button: turn");
}

}  // namespace

Scale scale_for(Field field, double coldest, double largest) {
  if (field == Field::temperature) {
    return temperature_scale(coldest, largest);
  }
  Scale scale;
  scale.title = fmt::format("{} [{}]", field_name(field), unit_of(field));
  if (field == Field::current_density) {
    scale.edges = {0};
    for (double power = 1; scale.edges.back() < largest || scale.edges.size() < 3; power *= 10) {
      for (const double step : {1.0, 2.0, 5.0}) {
        if (scale.edges.back() < largest && step * power > 0.002 * largest) {
          scale.edges.push_back(step * power);
        }
      }
      if (power > 1e9) {
        break;
      }
    }
    if (scale.edges.size() < 2) {
      scale.edges.push_back(1);
    }
    scale.colours = heat_ramp(scale.edges.size() - 1);
    return scale;
  }
  const double top = field == Field::liquid_fraction ? 1 : std::max(largest, 1e-6);
  const double step = field == Field::liquid_fraction ? 0.1 : round_length(top / 5);
  const auto bands = static_cast<std::size_t>(std::ceil(top / step - 1e-9));
  for (std::size_t k = 0; k <= bands; ++k) {
    scale.edges.push_back(step * static_cast<double>(k));
  }
  scale.colours = field == Field::potential ? potential_ramp(bands) : heat_ramp(bands);
  return scale;
}

double largest_shown(ViewPanel& panel, Field field) {
  const StoredRun& run = panel.run();
  if (field == Field::temperature) {
    double hottest = 0;
    const std::vector<float> peak = peak_temperature_of(run);
    for (std::size_t cell = 0; cell < peak.size(); ++cell) {
      if (run.region[cell] != region::empty) {
        hottest = std::max(hottest, celsius(peak[cell]));
      }
    }
    return hottest;
  }
  double largest = 0;
  for (const Moment& moment : telling_moments(run)) {
    largest = std::max(largest, static_cast<double>(panel.largest(moment.frame, field)));
  }
  return largest;
}

void draw_lasting(Page& page, const View& view) {
  draw_titles(page, view);
  if (view.state.buttons) {
    draw_buttons(page, view);
  }
  draw_slider_marks(page, view);
  draw_upright_scale(page, view.scale, view.layout.scale);
  draw_curve(page, view);
  if (!view.state.message.empty()) {
    const Box& first = view.layout.panels.front();
    page.text({first.x + 12, first.y + 16}, view.state.message,
              {.size = 14, .colour = palette::bad, .bold = true});
  }
}

void draw_passing(Page& page, const View& view) {
  draw_slider(page, view);
  draw_readings(page, view);
  draw_curve_now(page, view);
  if (view.state.help) {
    draw_help(page);
  }
}

}  // namespace tabmelt
