// What a person can do in the window: one list from which buttons, keys and the help follow.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "viz/pictures/moment_view.h"
#include "viz/window/line_probe.h"

namespace tabmelt::window {

enum class Action {
  play,
  back,
  forward,
  first,
  last,
  temperature,
  liquid,
  potential,
  current,
  mirror,
  solid,
  isotherm,
  hotter,
  colder,
  joint,
  forget,
  save,
  help,
  close,
};

struct ViewState : Shown {
  bool playing = false;
  bool mirror = true;
  bool solid = false;  // turned around the axis, a quarter cut away
  bool joint = true;   // close to the joint; false: all of the model
  bool help = false;
  bool closed = false;
  std::optional<Point> probe;     // (x, z) [mm]; x < 0 in the mirrored half
  std::optional<ProbeLine> line;  // the probe lies on it
  std::string message;
};

struct Control {
  Action action;
  std::string key;     // name of the key as X calls it
  std::string shown;   // the key in the help
  std::string button;  // words on its button; empty: no button
  std::string help;
  // What it switches on and off, or the field that it shows; neither: it does something else.
  bool ViewState::*toggle = nullptr;
  std::optional<Field> field = {};

  bool is_on(const ViewState&) const;
};

const std::vector<Control>& controls();
const Control& control_of(Action);
std::optional<Action> action_of_key(const std::string& key);

struct Button {
  Box box;
  const Control* control;
};
// At the foot of a window of this width [pixels], in as many rows as they need.
struct Buttons {
  explicit Buttons(double width);
  static constexpr double words = 14;  // their size
  std::vector<Button> all;
  double height = 0;  // of all rows
};
std::optional<Action> button_at(const Buttons&, Point);
void draw_buttons(Page&, const Buttons&, const ViewState&);
void draw_help(Page&);

// Share 0..1 along the slider, if the point is on it (or near it).
std::optional<double> slider_share(const MomentLayout&, Point);
// Share 0..1 of a diagram's width, if the point is in it.
std::optional<double> share_across(const Box&, Point);

}  // namespace tabmelt::window
