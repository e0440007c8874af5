// Keys of [limits], [boundary], [numerics], [[layer]] and [[probe]].
#include <fmt/format.h>

#include "io/case/keys/usual.h"

namespace tabmelt::schema {
namespace {

ThermalEnd end_named(const std::string& word) {
  return word == "insulated" ? ThermalEnd::insulated : ThermalEnd::fixed_temperature;
}

Key side(const std::string& path, ThermalEnd Boundary::*which, const std::string& meaning,
         const Standard& standard) {
  return {
      .path = path,
      .form = choice({"fixed temperature", "insulated"}),
      .meaning = meaning,
      .standard = standard,
      .set = [which](Draft& d, const Value& v) { d.problem.boundary.*which = end_named(v.text); }};
}

// The default is that of the solver.
template <typename Number>
Key setting(const std::string& path, Number Numerics::*which, const Form& form,
            const std::string& meaning, const std::string& reason) {
  std::string standard = fmt::format("{}", Numerics{}.*which);
  if (form.kind == Kind::quantity) standard += " " + form.range.unit;
  return {.path = path,
          .form = form,
          .meaning = meaning,
          .standard = {standard, reason},
          .set = [which](Draft& d, const Value& v) {
            d.problem.numerics.*which = static_cast<Number>(v.number);
          }};
}

std::vector<Key> numerics_keys() {
  const std::string study = "engineering judgement, see the accuracy study of the default case";
  return {
      setting("numerics.resolution", &Numerics::resolution, number(0.05, 50),
              "Cells per length, relative to the usual rule; 2 halves every cell.", study),
      setting("numerics.step_tolerance", &Numerics::step_tolerance, number(1e-9, 0.5),
              "Error allowed in each time step, relative to the temperature rise.", study),
      setting("numerics.first_step", &Numerics::first_step, quantity("s", 1e-10, 1),
              "First time step after each switching.", study),
      setting("numerics.longest_step", &Numerics::longest_step, quantity("s", 1e-7, 1000),
              "Longest time step.", study),
      {.path = "numerics.end_time",
       .form = quantity("ms", 1e-7, 1e5),
       .meaning = "End of the computed time.",
       .rule_in_words = "left out: until the pulse is over and the inside has passed its peak",
       .set = [](Draft& d, const Value& v) { d.problem.numerics.end_time = v.number; }},
      setting("numerics.longest_run", &Numerics::longest_run, quantity("s", 1e-4, 1e5),
              "Computed time after which the wait for the peak is given up.", study),
      setting("numerics.linear_tolerance", &Numerics::linear_tolerance, number(1e-15, 1e-2),
              "Relative residual at which the current field is done.", study),
      setting("numerics.newton_tolerance", &Numerics::newton_tolerance, quantity("K", 1e-10, 10),
              "Largest change of temperature at which the enthalpy iteration stops.", study),
      setting("numerics.newton_limit", &Numerics::newton_limit, count(2, 1000),
              "Most enthalpy iterations before the step is shortened.", study),
      setting("numerics.coupling_tolerance", &Numerics::coupling_tolerance, number(1e-12, 0.5),
              "Relative change of the load's resistance at which contacts and current agree.",
              study),
      setting("numerics.coupling_limit", &Numerics::coupling_limit, count(1, 1000),
              "Most rounds between contacts and current before the step is shortened.", study),
      setting("numerics.frames", &Numerics::frames, count(1, 5000),
              "Pictures kept of the pulse, and as many of the time after it.",
              "enough for a smooth film, small files"),
  };
}

}  // namespace

std::vector<Key> run_keys() {
  const std::vector<Key> keys{
      {.path = "limits.inner_wall",
       .form = quantity("degC", 273.15, 2273.15),
       .meaning = "Hottest allowed temperature of the can's inner wall.",
       .rule_in_words = "left out: the wall is judged by its strength at temperature and by the "
                        "depth of melt",
       .set = [](Draft& d,
                 const Value& v) { d.problem.cell_limits.emplace().inner_wall = v.number; }},
      {.path = "limits.inner_wall_reason",
       .form = {Kind::text},
       .meaning = "Why this limit; appears in the report.",
       .rule = where([](const Draft& d) { return d.is_given("limits.inner_wall"); },
                     {"set in the case file", "your limit"}),
       .rule_in_words = "\"set in the case file\" if limits.inner_wall is given",
       .set =
           [](Draft& d, const Value& v) {
             if (d.problem.cell_limits) d.problem.cell_limits->reason = v.text;
           }},

      {.path = "boundary.ambient",
       .form = quantity("degC", 223.15, 1273.15),
       .meaning = "Temperature at the start, and of everything held at a fixed temperature.",
       .standard = {"20 degC", "common practice, no source"},
       .spread = {"5 K", "a workshop over the year; engineering judgement"},
       .set = [](Draft& d, const Value& v) { d.problem.boundary.ambient = v.number; }},
      side("boundary.electrode_end", &Boundary::electrode_end, "Upper end of the electrode.",
           {"fixed temperature", "the holder stays cold during a pulse; engineering judgement"}),
      side("boundary.rim", &Boundary::rim, "Outer edge of strip, can and layers.",
           {"insulated", "heat does not reach it during a pulse; engineering judgement"}),
      side("boundary.bottom", &Boundary::bottom, "Lower face of the can or of the last layer.",
           {"insulated", "heat does not reach it during a pulse; engineering judgement"}),
  };
  return joined({keys, numerics_keys()});
}

std::vector<Key> layer_keys() {
  return {
      {.path = "layer.name",
       .form = {Kind::text},
       .meaning = "Name of the layer, for tables and probes.",
       .required = true,
       .set = [](Draft& d, const Value& v) { d.problem.inner.back().name = v.text; }},
      {.path = "layer.material",
       .form = {Kind::material},
       .meaning = "Material of the layer.",
       .required = true,
       .set = [](Draft& d, const Value& v) { d.problem.inner.back().material = v.material; }},
      {.path = "layer.thickness",
       .form = quantity("mm", 1e-6, 0.2),
       .meaning = "Thickness of the layer.",
       .required = true,
       .spread = {"30 %", "nobody has measured a stack; engineering judgement"},
       .set = [](Draft& d, const Value& v) { d.problem.inner.back().thickness = v.number; }},
      {.path = "layer.limit",
       .form = quantity("degC", 273.15, 2273.15),
       .meaning = "Hottest allowed temperature anywhere in the layer.",
       .rule_in_words = "left out: not judged",
       .set = [](Draft& d, const Value& v) { d.problem.inner.back().limit = v.number; }},
      {.path = "layer.molten_limit",
       .form = number(0.01, 1),
       .meaning = "Largest share of the layer's thickness that may melt.",
       .rule_in_words = "left out: 0.5 for a layer that melts, if it has no other limit",
       .set = [](Draft& d, const Value& v) { d.problem.inner.back().molten_limit = v.number; }},
      {.path = "layer.damage_limit",
       .form = number(1e-6, 1),
       .meaning = "Largest share of the protective film (SEI) of an electrode at this layer's top "
                  "that may decompose.",
       .rule_in_words = "left out: not judged",
       .set = [](Draft& d, const Value& v) { d.problem.inner.back().damage_limit = v.number; }},
      {.path = "layer.limit_reason",
       .form = {Kind::text},
       .meaning = "Why this limit; appears in the report.",
       .rule = [](const Draft& d) -> std::optional<Standard> {
         const InnerLayer& layer = d.problem.inner.back();
         if (layer.limit || layer.molten_limit || layer.damage_limit)
           return Standard{"set in the case file", "your limit"};
         return std::nullopt;
       },
       .rule_in_words = "\"set in the case file\" if the layer has a limit",
       .set = [](Draft& d, const Value& v) { d.problem.inner.back().limit_reason = v.text; }},
  };
}

std::vector<Key> probe_keys() {
  return {
      {.path = "probe.name",
       .form = {Kind::text},
       .meaning = "Name of the point, for tables and curves.",
       .required = true,
       .set = [](Draft& d, const Value& v) { d.problem.probes.back().name = v.text; }},
      {.path = "probe.part",
       .form = {Kind::text},
       .meaning =
           "Which side is meant where the point lies on a boundary: electrode, strip, can, or "
           "the name of a strip or layer.",
       .required = true,
       .set = [](Draft& d, const Value& v) { d.problem.probes.back().part = v.text; }},
      {.path = "probe.r",
       .form = quantity("mm", 0, 2),
       .meaning = "Distance from the electrode's axis.",
       .standard = {"0 mm", "on the axis"},
       .set = [](Draft& d, const Value& v) { d.problem.probes.back().r = v.number; }},
      {.path = "probe.z",
       .form = quantity("mm", -1, 1),
       .meaning = "Height above the lowest faying surface (strip on can); the strips and the "
                  "electrode are above, the can and the layers below (negative).",
       .required = true,
       .set = [](Draft& d, const Value& v) { d.problem.probes.back().z = v.number; }},
  };
}

}  // namespace tabmelt::schema
