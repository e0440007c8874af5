// What a person can do in the window: one list from which buttons, keys and the help follow.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "viz/line_probe.h"
#include "viz/live_section.h"
#include "viz/page.h"

namespace tabmelt {

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

struct ViewState {
  std::size_t moment = 0;
  bool playing = false;
  Field field = Field::temperature;
  bool mirror = true;
  bool solid = false;  // turned around the axis, a quarter cut away
  bool isotherm = true;
  double level = 0;   // [degrees Celsius] of the isotherm
  bool joint = true;  // close to the joint; false: all of the model
  bool help = false;
  bool buttons = true;  // false in pictures and movies
  bool closed = false;
  std::optional<Point> probe;     // (x, z) [mm]; x < 0 in the mirrored half
  std::optional<ProbeLine> line;  // the probe lies on it
  std::string message;
  bool operator==(const ViewState&) const = default;
};

struct Control {
  Action action;
  std::string key;     // name of the key as X calls it
  std::string shown;   // the key in the help
  std::string button;  // words on its button; empty: no button
  std::string help;
};

const std::vector<Control>& controls();
std::optional<Action> action_of_key(const std::string& key);
bool is_on(Action, const ViewState&);

// Where things are in a window of this size [pixels, origin at the lower left].
struct ViewLayout {
  ViewLayout(double width, double height, std::size_t runs, bool with_line = false);
  struct Button {
    Box box;
    const Control* control;
  };
  std::vector<Button> buttons;
  double button_words = 14;  // their size
  Box slider;
  std::vector<Box> panels;  // one per run
  Box scale;
  Box curve;    // over time
  Box profile;  // along the line; empty without one
};

// Share 0..1 along the slider, if the point is on it (or near it).
std::optional<double> slider_share(const ViewLayout&, Point);
std::optional<Action> button_at(const ViewLayout&, Point);
// Share 0..1 of a diagram's width, if the point is in it.
std::optional<double> share_across(const Box&, Point);

}  // namespace tabmelt
