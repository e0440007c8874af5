#include "viz/view_controls.h"

#include <algorithm>

namespace tabmelt {

namespace {
bool inside(const Box& box, Point at, double margin = 0) {
  return at.x >= box.x - margin && at.x <= box.right() + margin && at.y >= box.y - margin &&
         at.y <= box.top() + margin;
}
}  // namespace

const std::vector<Control>& controls() {
  static const std::vector<Control> all{
      {Action::play, "space", "space", "Play / pause", "play or pause"},
      {Action::back, "Left", "left", "", "one moment back"},
      {Action::forward, "Right", "right", "", "one moment forward"},
      {Action::first, "Home", "Home", "", "first moment"},
      {Action::last, "End", "End", "", "last moment"},
      {Action::temperature, "1", "1", "Temperature", "temperature"},
      {Action::liquid, "2", "2", "Liquid", "share that is liquid"},
      {Action::potential, "3", "3", "Potential", "electric potential"},
      {Action::current, "4", "4", "Current", "current density"},
      {Action::mirror, "m", "m", "Both halves", "both halves or one"},
      {Action::solid, "t", "t", "Turn to 3-D", "turned around the axis, a quarter cut away"},
      {Action::joint, "j", "j", "Close to joint", "close to the joint or all of the model"},
      {Action::isotherm, "i", "i", "Isotherm", "line of one temperature on or off"},
      {Action::colder, "Down", "down", "-50 \u00b0C", "isotherm 50 \u00b0C lower"},
      {Action::hotter, "Up", "up", "+50 \u00b0C", "isotherm 50 \u00b0C higher"},
      {Action::forget, "c", "c", "", "forget the place and the line"},
      {Action::save, "s", "s", "Save picture", "save what is seen as a PNG file"},
      {Action::help, "question", "?", "? Help", "this help on or off"},
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

bool is_on(Action action, const ViewState& state) {
  switch (action) {
    case Action::play:
      return state.playing;
    case Action::temperature:
      return state.field == Field::temperature;
    case Action::liquid:
      return state.field == Field::liquid_fraction;
    case Action::potential:
      return state.field == Field::potential;
    case Action::current:
      return state.field == Field::current_density;
    case Action::mirror:
      return state.mirror;
    case Action::solid:
      return state.solid;
    case Action::isotherm:
      return state.isotherm;
    case Action::joint:
      return state.joint;
    case Action::help:
      return state.help;
    default:
      return false;
  }
}

ViewLayout::ViewLayout(double width, double height, std::size_t runs, bool with_line) {
  constexpr double margin = 16, gap = 6, row = 30;
  const TextStyle words{.size = button_words};
  double x = margin;
  for (const Control& control : controls()) {
    if (control.button.empty()) {
      continue;
    }
    const double wide = Page::text_width(control.button, words) + 20;
    buttons.push_back({{x, margin, wide, row}, &control});
    x += wide + gap;
  }
  // Too narrow a window shrinks the buttons rather than losing the last ones.
  const double most = width - margin;
  if (x - gap > most) {
    const double shrink = (most - margin) / (x - gap - margin);
    button_words *= shrink;
    for (Button& button : buttons) {
      button.box.x = margin + (button.box.x - margin) * shrink;
      button.box.width *= shrink;
    }
  }
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

std::optional<double> slider_share(const ViewLayout& layout, Point at) {
  if (!inside(layout.slider, at, 9)) {
    return std::nullopt;
  }
  return std::clamp((at.x - layout.slider.x) / layout.slider.width, 0.0, 1.0);
}

std::optional<double> share_across(const Box& box, Point at) {
  return inside(box, at) && box.width > 0 ? std::optional<double>((at.x - box.x) / box.width)
                                          : std::nullopt;
}

std::optional<Action> button_at(const ViewLayout& layout, Point at) {
  for (const ViewLayout::Button& button : layout.buttons) {
    if (inside(button.box, at)) {
      return button.control->action;
    }
  }
  return std::nullopt;
}

}  // namespace tabmelt
