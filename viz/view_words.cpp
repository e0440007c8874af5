#include "viz/view_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/section_panel.h"
#include "viz/stored_values.h"
#include "viz/view_probe.h"

namespace tabmelt {

namespace {

void draw_buttons(Page& page, const View& view) {
  for (const ViewLayout::Button& button : view.layout.buttons) {
    const bool on = is_on(button.control->action, view.state);
    page.rectangle(button.box, on ? palette::ink : palette::white);
    page.frame(button.box, {.colour = palette::quiet_ink, .width = 1});
    page.text(button.box.centre(), button.control->button,
              {.size = view.layout.button_words,
               .colour = on ? palette::white : palette::ink,
               .align = Align::centre});
  }
}

// The telling moments of the first run, named as far as there is room.
void draw_slider_marks(Page& page, const View& view) {
  const Box& bar = view.layout.slider;
  page.rectangle({bar.x, bar.centre().y - 2, bar.width, 4}, palette::rule);
  const double last = std::max(1.0, static_cast<double>(view.times.size() - 1));
  const StoredRun& run = view.runs.front().panel->run();
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
  const double x = bar.x + bar.width * static_cast<double>(view.state.moment) / last;
  page.disc({x, bar.centre().y}, 9, palette::ink);
  page.disc({x, bar.centre().y}, 6, palette::orange);
  page.text({bar.right() + 22, bar.centre().y}, time_words(view.times[view.state.moment]),
            {.size = 17, .bold = true});
}

void draw_titles(Page& page, const View& view) {
  const bool alone = view.runs.size() < 2;
  for (std::size_t n = 0; n < view.runs.size(); ++n) {
    const StoredRun& run = view.runs[n].panel->run();
    const Box& box = view.layout.panels[n];
    page.frame(box, {.colour = palette::quiet_ink, .width = 1});
    // Two titles share the whole width of the window.
    const double room = alone ? page.width() - 2 * box.x : 0.5 * page.width() - 24;
    const double left = alone || n == 0 ? box.x : 0.5 * page.width() + 8;
    const std::string side = alone ? "" : n == 0 ? "Left: " : "Right: ";
    const FittedText title =
        fitted(side + title_of(run), {.size = 19, .bold = true}, room, alone ? 26 : 40, 13);
    double y = page.height() - 10 - 0.5 * title.pitch;
    for (const std::string& line : title.lines) {
      page.text({left, y}, line, title.style);
      y -= title.pitch;
    }
    const double bottom = box.top() + 8;
    const FittedText verdict = fitted(
        (run.complete ? "" : "Run cut short; what was stored until then. ") + verdict_of(run),
        {.size = 14}, room, y + 0.5 * title.pitch - bottom, 11);
    y -= 0.5 * (verdict.pitch - title.pitch) + 2;
    for (const std::string& line : verdict.lines) {
      page.text({left, y}, line, verdict.style);
      y -= verdict.pitch;
    }
  }
}

// "1462 A", or "1462 A | 1668 A" for two runs.
void draw_readings(Page& page, const View& view) {
  std::vector<Row> rows;
  const auto add = [&](const char* name, const char* series, auto&& words) {
    std::string values;
    bool known = false;
    for (const ViewedRun& viewed : view.runs) {
      const StoredRun& run = viewed.panel->run();
      const auto value = value_at(run, series, run.frame_times[viewed.frame]);
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
  const Box& diagram = view.state.line ? view.layout.profile : view.layout.curve;
  const bool room = y > diagram.top() + 46;
  if (room && view.state.isotherm && view.state.field == Field::temperature) {
    page.line({{left, y}, {left + 26, y}}, {.width = 2.4});
    page.text({left + 34, y}, fmt::format("isotherm {:.0f} \u00b0C", view.state.level),
              {.size = 14});
  }
}

void draw_help(Page& page) {
  const double height = 58 + 21 * static_cast<double>(controls().size() + 4);
  const Box box{0.5 * (page.width() - 560), 0.5 * (page.height() - height), 560, height};
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
  row("mouse", "click on the section: follow a place over time");
  row("", "drag across it, or click and Shift-click: profile along a line");
  row("", "in the diagrams: choose a moment, or a place on the line");
  row("", "wheel: nearer, further; middle button: shift; in 3-D left: turn");
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
  draw_lasting_probe(page, view);
  if (!view.state.message.empty()) {
    const Box& first = view.layout.panels.front();
    page.text({first.x + 12, first.y + 16}, view.state.message,
              {.size = 14, .colour = palette::bad, .bold = true});
  }
}

void draw_passing(Page& page, const View& view) {
  draw_slider(page, view);
  draw_readings(page, view);
  draw_passing_probe(page, view);
  if (view.state.help) {
    draw_help(page);
  }
}

}  // namespace tabmelt
