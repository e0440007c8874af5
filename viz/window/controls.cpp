#include "viz/window/controls.h"

#include <algorithm>

namespace tabmelt::window {

const std::vector<Control>& controls() {
  static const std::vector<Control> all{
      {Action::play, "space", "space", "Play / pause", "play or pause", &ViewState::playing},
      {Action::back, "Left", "left", "", "one moment back"},
      {Action::forward, "Right", "right", "", "one moment forward"},
      {Action::first, "Home", "Home", "", "first moment"},
      {Action::last, "End", "End", "", "last moment"},
      {Action::temperature, "1", "1", "Temperature", "temperature", nullptr, Field::temperature},
      {Action::liquid, "2", "2", "Liquid", "share that is liquid", nullptr, Field::liquid_fraction},
      {Action::potential, "3", "3", "Potential", "electric potential", nullptr, Field::potential},
      {Action::current, "4", "4", "Current", "current density", nullptr, Field::current_density},
      {Action::mirror, "m", "m", "Both halves", "both halves or one", &ViewState::mirror},
      {Action::solid, "t", "t", "Turn to 3-D", "turned around the axis, a quarter cut away",
       &ViewState::solid},
      {Action::joint, "j", "j", "Close to joint", "close to the joint or all of the model",
       &ViewState::joint},
      {Action::isotherm, "i", "i", "Isotherm", "line of one temperature on or off",
       &ViewState::isotherm},
      {Action::colder, "Down", "down", "-50 \u00b0C", "isotherm 50 \u00b0C lower"},
      {Action::hotter, "Up", "up", "+50 \u00b0C", "isotherm 50 \u00b0C higher"},
      {Action::forget, "c", "c", "", "forget the place and the line"},
      {Action::save, "s", "s", "Save picture", "save what is seen as a PNG file"},
      {Action::help, "question", "?", "? Help", "this help on or off", &ViewState::help},
      {Action::close, "q", "q", "", "close the window"},
  };
  return all;
}

std::optional<Action> action_of_key(const std::string& key) {
  if (key == "Escape") {
    return Action::close;
  }
  for (const Control& control : controls()) {
    if (control.key == key) {
      return control.action;
    }
  }
  return std::nullopt;
}

const Control& control_of(Action action) {
  return *std::find_if(controls().begin(), controls().end(),
                       [action](const Control& control) { return control.action == action; });
}

bool Control::is_on(const ViewState& state) const {
  return field ? state.field == *field : toggle != nullptr && state.*toggle;
}

Buttons::Buttons(double width) {
  constexpr double margin = MomentLayout::margin, gap = 6, row = 28;
  double x = margin;
  int rows = 1;
  for (const Control& control : controls()) {
    if (control.button.empty()) {
      continue;
    }
    const double wide = Page::text_width(control.button, {.size = words}) + 16;
    if (x > margin && x + wide > width - margin) {
      x = margin;
      ++rows;
    }
    all.push_back({{x, static_cast<double>(rows), wide, row}, &control});
    x += wide + gap;
  }
  for (Button& button : all) {
    button.box.y = margin + (rows - button.box.y) * (row + gap);  // the first row on top
  }
  height = rows * (row + gap);
}

std::optional<double> slider_share(const MomentLayout& layout, Point at) {
  if (!layout.slider.contains(at, 9) && !layout.current.contains(at)) {
    return std::nullopt;
  }
  return std::clamp((at.x - layout.slider.x) / layout.slider.width, 0.0, 1.0);
}

std::optional<double> share_across(const Box& box, Point at) {
  return box.contains(at) && box.width > 0 ? std::optional<double>((at.x - box.x) / box.width)
                                           : std::nullopt;
}

std::optional<Action> button_at(const Buttons& buttons, Point at) {
  for (const Button& button : buttons.all) {
    if (button.box.contains(at)) {
      return button.control->action;
    }
  }
  return std::nullopt;
}

void draw_buttons(Page& page, const Buttons& buttons, const ViewState& state) {
  for (const Button& button : buttons.all) {
    const bool on = button.control->is_on(state);
    page.rectangle(button.box, on ? palette::ink : palette::white);
    page.frame(button.box, {.colour = palette::quiet_ink, .width = 1});
    page.text(button.box.centre(), button.control->button,
              {.size = buttons.words,
               .colour = on ? palette::white : palette::ink,
               .align = Align::centre});
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

}  // namespace tabmelt::window
