// Keys of [leads], [joints] and [switch].
#include "io/case/schema.h"

namespace tabmelt::schema {
namespace {

using Rule = std::function<std::optional<Standard>(const Draft&)>;

// A default of a real welder; nothing where the current is prescribed or the case is a pure check.
Rule usual(const Standard& real, const std::string& nothing) {
  return [real, nothing](const Draft& d) -> std::optional<Standard> {
    if (d.prescribed()) return Standard{nothing, "the current is prescribed: does not count"};
    if (!d.has_cell()) return Standard{nothing, "pure check without [cell]: nothing is added"};
    return real;
  };
}

// The same for the cable, which counts no longer once both its values are given.
Rule usual_cable(const Standard& real, const std::string& nothing) {
  const Rule other = usual(real, nothing);
  return [other, nothing](const Draft& d) -> std::optional<Standard> {
    if (d.is_given("leads.resistance") && d.is_given("leads.inductance"))
      return Standard{nothing, "leads.resistance and leads.inductance are given"};
    return other(d);
  };
}

std::string in_words(const Standard& real, const std::string& nothing) {
  return real.value + "; " + nothing + " for a prescribed current or without [cell]";
}

}  // namespace

std::vector<Key> loop_keys() {
  const Standard section{"16 mm2", "common practice, no source"};
  const Standard length{"0.3 m", "common practice, no source"};
  const Standard spacing{"20 mm", "common practice, no source"};
  const Standard joints{"4", "one lug at each end of both cables; common practice, no source"};
  const Standard joint{"0.03 mohm",
                       "sound lugs 0.02 to 0.1 mohm, from memory; engineering judgement"};
  const Standard on{"0.5 mohm",
                    "several MOSFETs of about 1 mohm in parallel, warm, with their busbars; "
                    "engineering judgement"};
  return {
      {.path = "leads.cross_section",
       .kind = Kind::quantity,
       .unit = "mm2",
       .lowest = 0,
       .highest = 1e-2,
       .meaning = "Copper cross-section of each of the two cables; 0 mm2: no cables.",
       .rule = usual_cable(section, "0 mm2"),
       .rule_in_words = in_words(section, "0 mm2"),
       .set = [](Draft& d, const Value& v) { d.problem.circuit.leads.cross_section = v.number; }},
      {.path = "leads.length",
       .kind = Kind::quantity,
       .unit = "m",
       .lowest = 0,
       .highest = 20,
       .meaning = "Length of one cable (one way).",
       .rule = usual_cable(length, "0 m"),
       .rule_in_words = in_words(length, "0 m"),
       .set = [](Draft& d, const Value& v) { d.problem.circuit.leads.length = v.number; }},
      {.path = "leads.spacing",
       .kind = Kind::quantity,
       .unit = "mm",
       .lowest = 0,
       .highest = 2,
       .meaning = "Mean distance between the axes of the two cables; 0 mm: they touch.",
       .rule = usual_cable(spacing, "0 mm"),
       .rule_in_words = in_words(spacing, "0 mm"),
       .set = [](Draft& d, const Value& v) { d.problem.circuit.leads.spacing = v.number; }},
      {.path = "leads.resistance",
       .kind = Kind::quantity,
       .unit = "mohm",
       .lowest = 0,
       .highest = 10,
       .meaning = "Resistance of both cables together, if measured.",
       .rule_in_words = "worked out from cross-section and length (IEC 60228)",
       .set = [](Draft& d, const Value& v) { d.problem.circuit.leads.resistance = v.number; }},
      {.path = "leads.inductance",
       .kind = Kind::quantity,
       .unit = "uH",
       .lowest = 0,
       .highest = 1,
       .meaning = "Inductance of the loop of both cables, if measured.",
       .rule_in_words = "worked out from length, spacing and cross-section (Grover 1946)",
       .set = [](Draft& d, const Value& v) { d.problem.circuit.leads.inductance = v.number; }},

      {.path = "joints.count",
       .kind = Kind::count,
       .lowest = 0,
       .highest = 1000,
       .meaning = "Number of bolted or crimped joints in the loop.",
       .rule = usual(joints, "0"),
       .rule_in_words = in_words(joints, "0"),
       .set = [](Draft& d, const Value& v) { d.joint_count = static_cast<int>(v.number); }},
      {.path = "joints.resistance",
       .kind = Kind::quantity,
       .unit = "mohm",
       .lowest = 0,
       .highest = 1,
       .meaning = "Resistance of each joint.",
       .rule = usual(joint, "0 mohm"),
       .rule_in_words = in_words(joint, "0 mohm"),
       .set = [](Draft& d, const Value& v) { d.joint_resistance = v.number; }},

      {.path = "switch.on_resistance",
       .kind = Kind::quantity,
       .unit = "mohm",
       .lowest = 0,
       .highest = 10,
       .meaning = "Resistance of the closed switch.",
       .rule = usual(on, "0 mohm"),
       .rule_in_words = in_words(on, "0 mohm"),
       .set = [](Draft& d,
                 const Value& v) { d.problem.circuit.power_switch.on_resistance = v.number; }},
      {.path = "switch.pulses",
       .kind = Kind::pairs,
       .unit = "ms",
       .lowest = 1e-7,
       .highest = 1000,
       .meaning = "Pulse train as pairs of on and off time, e.g. [[\"1 ms\", \"5 ms\"], [\"8 ms\", "
                  "\"0 ms\"]]: a short first pulse, a pause, the main pulse.",
       .second_unit = "ms",
       .second_lowest = 0,
       .second_highest = 1000,
       .rule_in_words = "left out: conducts until the end",
       .set =
           [](Draft& d, const Value& v) {
             d.problem.circuit.power_switch.train.clear();
             for (const auto& [time_on, time_off] : v.pairs)
               d.problem.circuit.power_switch.train.push_back({time_on, time_off});
           }},
  };
}

}  // namespace tabmelt::schema
