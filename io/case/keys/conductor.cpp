// Keys of [[conductor]].
#include <fmt/format.h>

#include "io/case/schema.h"
#include "io/case/units.h"
#include "solver/circuit/conductors.h"

namespace tabmelt {

bool frame_is_open(const Conductor& c) {
  if (!(c.piece.cross_section > 0)) return false;
  const double wire = circuit::round_diameter(c.piece.cross_section);
  return c.frame_width > wire && c.frame_height > wire;
}

}  // namespace tabmelt

namespace tabmelt::schema {
namespace {

bool is_frame(const Draft& d) {
  return !d.conductors.empty() && d.conductors.back().frame_width > 0 &&
         d.conductors.back().frame_height > 0;
}

std::optional<Standard> frame_length(const Draft& d) {
  if (!is_frame(d)) return std::nullopt;
  const Conductor& c = d.conductors.back();
  return Standard{units::in_unit(2 * (c.frame_width + c.frame_height), "mm", 12),
                  "once around the frame"};
}

Standard inductance(const Draft& d) {
  const Standard none{"0 uH", "short against the leads; engineering judgement"};
  if (!is_frame(d)) return none;
  const Conductor& c = d.conductors.back();
  // A frame narrower than its wire is complained about with the rest.
  if (!frame_is_open(c)) return none;
  const double one =
      circuit::rectangular_loop_inductance(c.frame_width, c.frame_height, c.piece.cross_section);
  return {units::in_unit(c.piece.count * one, "uH", 12),
          "rectangle of round wire, Grover, Inductance Calculations (1946)"};
}

Key frame_side(const std::string& path, const std::string& meaning, double Conductor::*side) {
  return {.path = path,
          .form = quantity("mm", 1e-3, 10),
          .meaning = meaning,
          .rule_in_words = "left out: no frame",
          .set = [side](Draft& d, const Value& v) { d.conductors.back().*side = v.number; }};
}

}  // namespace

std::vector<Key> conductor_keys() {
  return {
      {.path = "conductor.name",
       .form = {Kind::text},
       .meaning = "What it is, for the report.",
       .required = true,
       .set = [](Draft& d, const Value& v) { d.conductors.back().piece.name = v.text; }},
      {.path = "conductor.material",
       .form = {Kind::material},
       .meaning = "Material; its resistance is that at boundary.ambient.",
       .standard = {"copper", "common practice, no source"},
       .set = [](Draft& d, const Value& v) { d.conductors.back().material = v.material; }},
      frame_side("conductor.frame_width",
                 "Width of the rectangle that a frame of solid wire or bars encloses, between the "
                 "axes of its sides; with frame_height it gives length and inductance.",
                 &Conductor::frame_width),
      frame_side("conductor.frame_height", "Height of that rectangle.", &Conductor::frame_height),
      {.path = "conductor.length",
       .form = quantity("mm", 0, 40),
       .meaning = "Length along the current.",
       .required = true,
       .rule = frame_length,
       .rule_in_words = "once around a frame; required for anything else",
       .set = [](Draft& d, const Value& v) { d.conductors.back().piece.length = v.number; }},
      {.path = "conductor.cross_section",
       .form = quantity("mm2", 1e-9, 1e-2),
       .meaning = "Metal cross-section; of wires side by side, all together.",
       .required = true,
       .set = [](Draft& d, const Value& v) { d.conductors.back().piece.cross_section = v.number; }},
      {.path = "conductor.count",
       .form = count(1, 1000),
       .meaning = "How many of them follow one another in the loop.",
       .standard = {"1", "one unless you say so"},
       .set = [](Draft& d, const Value& v) { d.conductors.back().piece.count = v.count(); }},
      {.path = "conductor.inductance",
       .form = quantity("uH", 0, 1),
       .meaning = "What all of them add to the inductance of the loop.",
       .rule = inductance,
       .rule_in_words = "of a frame that of the rectangle, flat bars taken as round; else 0 uH",
       .set = [](Draft& d, const Value& v) { d.conductors.back().piece.inductance = v.number; }},
  };
}

}  // namespace tabmelt::schema
