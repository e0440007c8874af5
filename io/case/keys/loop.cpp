// Keys of [leads] and [joints].
#include "io/case/keys/usual.h"
#include "io/case/units.h"
#include "solver/circuit/conductors.h"

namespace tabmelt::schema {
namespace {

// The same for the cable, which counts no longer once both its values are given.
Rule usual_cable(const Standard& real, const std::string& nothing) {
  const Rule other = usual(real, nothing);
  return [other, nothing](const Draft& d) -> std::optional<Standard> {
    if (d.is_given("leads.resistance") && d.is_given("leads.inductance"))
      return Standard{nothing, "leads.resistance and leads.inductance are given"};
    return other(d);
  };
}

}  // namespace

std::vector<Key> loop_keys() {
  const Standard section{"16 mm2", "common practice, no source"};
  const Standard length{"0.3 m", "common practice, no source"};
  const Standard spacing{"20 mm", "common practice, no source"};
  const Standard joints{"4", "one lug at each end of both cables; common practice, no source"};
  const Standard joint{"0.03 mohm", "sound lugs 0.02 to 0.1 mohm; engineering judgement"};
  return {
      {.path = "leads.gauge",
       .form = number(-3, 40),
       .meaning = "American wire gauge (AWG) of each of the two cables; 0 for 1/0, -1 for 2/0.",
       .rule_in_words = "left out: leads.cross_section counts",
       .set = [](Draft& d, const Value& v) { d.lead_gauge = v.number; }},
      {.path = "leads.cross_section",
       .form = quantity("mm2", 0, 1e-2),
       .meaning = "Metal cross-section of each of the two cables; 0 mm2: no cables.",
       .rule = [cable = usual_cable(section, "0 mm2")](const Draft& d) -> std::optional<Standard> {
         if (d.is_given("leads.gauge"))
           return Standard{units::in_unit(circuit::awg_cross_section(d.lead_gauge), "mm2", 12),
                           "from leads.gauge: 0.127 mm * 92^((36 - n)/39), ASTM B258"};
         return cable(d);
       },
       .rule_in_words = in_words(section, "0 mm2"),
       .set = [](Draft& d, const Value& v) { d.problem.circuit.leads.cross_section = v.number; }},
      {.path = "leads.material",
       .form = choice({"copper", "aluminium"}),
       .meaning = "Metal of the two cables.",
       .standard = {"copper", "common practice, no source"},
       .set = [](Draft& d, const Value& v) { d.problem.circuit.leads.material = v.text; }},
      {.path = "leads.strands",
       .form = choice({"flexible", "stranded or solid"}),
       .meaning =
           "Fine strands (IEC 60228 class 5) or seven to some dozen, or one (class 2 and 1).",
       .standard = {"flexible", "leads that are moved by hand; common practice, no source"},
       .set = [](Draft& d,
                 const Value& v) { d.problem.circuit.leads.flexible = v.text == "flexible"; }},
      {.path = "leads.length",
       .form = quantity("m", 0, 20),
       .meaning = "Length of one cable (one way).",
       .spread = {"5 %", "measured along the cable; engineering judgement"},
       .rule = usual_cable(length, "0 m"),
       .rule_in_words = in_words(length, "0 m"),
       .set = [](Draft& d, const Value& v) { d.problem.circuit.leads.length = v.number; }},
      {.path = "leads.spacing",
       .form = quantity("mm", 0, 2),
       .meaning = "Mean distance between the axes of the two cables; 0 mm: they touch.",
       .rule = usual_cable(spacing, "0 mm"),
       .rule_in_words = in_words(spacing, "0 mm"),
       .set = [](Draft& d, const Value& v) { d.problem.circuit.leads.spacing = v.number; }},
      {.path = "leads.resistance",
       .form = quantity("mohm", 0, 10),
       .meaning = "Resistance of both cables together, if measured.",
       .rule_in_words = "worked out from cross-section and length (IEC 60228)",
       .set = [](Draft& d, const Value& v) { d.problem.circuit.leads.resistance = v.number; }},
      {.path = "leads.inductance",
       .form = quantity("uH", 0, 1),
       .meaning = "Inductance of the loop of both cables, if measured.",
       .rule_in_words = "worked out from length, spacing and cross-section (Grover 1946)",
       .set = [](Draft& d, const Value& v) { d.problem.circuit.leads.inductance = v.number; }},

      {.path = "joints.count",
       .form = count(0, 1000),
       .meaning = "Number of bolted or crimped joints in the loop.",
       .rule = usual(joints, "0"),
       .rule_in_words = in_words(joints, "0"),
       .set = [](Draft& d, const Value& v) { d.joint_count = v.count(); }},
      {.path = "joints.resistance",
       .form = quantity("mohm", 0, 1),
       .meaning = "Resistance of each joint.",
       .spread = {"log-normal 1.6", "bolted and crimped by hand; engineering judgement"},
       .rule = usual(joint, "0 mohm"),
       .rule_in_words = in_words(joint, "0 mohm"),
       .set = [](Draft& d, const Value& v) { d.joint_resistance = v.number; }},
  };
}

}  // namespace tabmelt::schema
