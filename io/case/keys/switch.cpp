// Keys of [switch].
#include <algorithm>

#include "io/case/keys/usual.h"
#include "io/case/units.h"

namespace tabmelt::schema {
namespace {

bool transistors(const Draft& d) {
  return d.problem.circuit.power_switch.kind == circuit::SwitchKind::transistors;
}
bool thyristor(const Draft& d) {
  return d.problem.circuit.power_switch.kind == circuit::SwitchKind::thyristor;
}
bool contactor(const Draft& d) {
  return d.problem.circuit.power_switch.kind == circuit::SwitchKind::contactor;
}
constexpr const char* if_transistors = "switch.kind = \"transistors\"";

circuit::Switch& part(Draft& d) { return d.problem.circuit.power_switch; }

std::vector<Key> resistance_keys() {
  const Standard on{"0.5 mohm",
                    "several MOSFETs of about 1 mohm in parallel, warm, with their busbars; "
                    "engineering judgement"};
  return {
      {.path = "switch.kind",
       .kind = Kind::choice,
       .words = {"transistors", "contactor", "thyristor"},
       .meaning =
           "Transistors open at any current; a contactor bounces; a thyristor conducts until "
           "the current has come to zero.",
       .standard = {"transistors", "common practice, no source"},
       .set =
           [](Draft& d, const Value& v) {
             part(d).kind = v.text == "thyristor"   ? circuit::SwitchKind::thyristor
                            : v.text == "contactor" ? circuit::SwitchKind::contactor
                                                    : circuit::SwitchKind::transistors;
           }},
      {.path = "switch.parallel",
       .kind = Kind::count,
       .lowest = 1,
       .highest = 1000,
       .meaning = "Transistors in parallel.",
       .standard = {"1", "figures per part are then those of the whole switch"},
       .applies = transistors,
       .applies_when = if_transistors,
       .set = [](Draft& d, const Value& v) { part(d).parallel = static_cast<int>(v.number); }},
      {.path = "switch.part_resistance",
       .kind = Kind::quantity,
       .unit = "mohm",
       .lowest = 0,
       .highest = 10,
       .meaning = "On-resistance of one transistor, cold, from its data sheet.",
       .spread = {"15 %", "temperature of the silicon; engineering judgement"},
       .gives = "switch.on_resistance",
       .rule_in_words = "left out: switch.on_resistance counts",
       .applies = transistors,
       .applies_when = if_transistors,
       .set = [](Draft& d, const Value& v) { d.switch_part_resistance = v.number; }},
      {.path = "switch.resistance_factor",
       .kind = Kind::number,
       .lowest = 0.5,
       .highest = 5,
       .meaning = "On-resistance at the temperature of the transistors over the cold one.",
       .standard = {"1.3", "silicon at about 75 degC; typical of data sheets"},
       .applies =
           [](const Draft& d) { return transistors(d) && d.is_given("switch.part_resistance"); },
       .applies_when = "switch.part_resistance is given",
       .set = [](Draft& d, const Value& v) { d.switch_resistance_factor = v.number; }},
      {.path = "switch.on_resistance",
       .kind = Kind::quantity,
       .unit = "mohm",
       .lowest = 0,
       .highest = 10,
       .meaning = "Resistance of the closed switch.",
       .spread = {"15 %", "temperature of the silicon; engineering judgement"},
       .rule = [other = usual(on, "0 mohm")](const Draft& d) -> std::optional<Standard> {
         if (d.is_given("switch.part_resistance")) {
           const double whole = d.switch_part_resistance * d.switch_resistance_factor /
                                d.problem.circuit.power_switch.parallel;
           return Standard{
               units::in_unit(std::min(whole, 10.0), "mohm", 12),
               "switch.part_resistance times switch.resistance_factor over switch.parallel"};
         }
         return other(d);
       },
       .rule_in_words = "from switch.part_resistance; else " + in_words(on, "0 mohm"),
       .set = [](Draft& d, const Value& v) { part(d).on_resistance = v.number; }},
      {.path = "switch.forward_drop",
       .kind = Kind::quantity,
       .unit = "V",
       .lowest = 0.1,
       .highest = 10,
       .meaning = "Constant part of the voltage over the conducting thyristor.",
       .standard = {"1.2 V", "typical of data sheets, 1 to 1.5 V"},
       .applies = thyristor,
       .applies_when = "switch.kind = \"thyristor\"",
       .set = [](Draft& d, const Value& v) { part(d).forward_drop = v.number; }},
  };
}

std::vector<Key> timing_keys() {
  const auto opens = [](const Draft& d) { return !thyristor(d); };
  const auto pattern = [](const Draft& d) { return !thyristor(d) && !d.is_given("switch.pulses"); };
  const std::string if_no_pulses = "switch.pulses is left out and the switch is no thyristor";
  const auto time = [&](const std::string& path, const std::string& meaning, double lowest,
                        double Draft::*which) {
    return Key{.path = path,
               .kind = Kind::quantity,
               .unit = "ms",
               .lowest = lowest,
               .highest = 1000,
               .meaning = meaning,
               .rule_in_words = "left out: switch.pulses counts",
               .applies = pattern,
               .applies_when = if_no_pulses,
               .set = [which](Draft& d, const Value& v) { d.*which = v.number; }};
  };
  std::vector<Key> keys{
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
       .applies = opens,
       .applies_when = "switch.kind is \"transistors\" or \"contactor\"",
       .set =
           [](Draft& d, const Value& v) {
             part(d).train.clear();
             for (const auto& [time_on, time_off] : v.pairs)
               part(d).train.push_back({time_on, time_off});
           }},
      time("switch.first", "Length of a preheat pulse that seats the parts; 0 ms: none.", 0,
           &Draft::first_pulse),
      time("switch.pause", "Pause between the first pulse and the main one.", 0, &Draft::pause),
      time("switch.main", "Length of the main pulse.", 1e-7, &Draft::main_pulse),
      {.path = "switch.bounces",
       .kind = Kind::count,
       .lowest = 0,
       .highest = 20,
       .meaning =
           "How often the contactor opens again before it stays closed; it conducts for half "
           "of each bounce.",
       .standard = {"0", "none unless you say so"},
       .applies = contactor,
       .applies_when = "switch.kind = \"contactor\"",
       .set = [](Draft& d, const Value& v) { d.bounces = static_cast<int>(v.number); }},
      {.path = "switch.bounce_time",
       .kind = Kind::quantity,
       .unit = "ms",
       .lowest = 1e-6,
       .highest = 0.1,
       .meaning = "Time from one closing to the next while it bounces.",
       .standard = {"1 ms", "contactors 0.5 to 3 ms; engineering judgement"},
       .applies = [](const Draft& d) { return contactor(d) && d.bounces > 0; },
       .applies_when = "switch.bounces is given",
       .set = [](Draft& d, const Value& v) { d.bounce_time = v.number; }},
  };
  return keys;
}

std::vector<Key> turn_off_keys() {
  const auto rating = [](const std::string& path, const std::string& unit, double lowest,
                         double highest, const std::string& meaning,
                         std::optional<double> circuit::Switch::*which) {
    return Key{.path = path,
               .kind = Kind::quantity,
               .unit = unit,
               .lowest = lowest,
               .highest = highest,
               .meaning = meaning,
               .rule_in_words = "left out: not judged",
               .applies = transistors,
               .applies_when = if_transistors,
               .set = [which](Draft& d, const Value& v) { part(d).*which = v.number; }};
  };
  return {
      rating("switch.rated_voltage", "V", 1, 1e4,
             "Voltage at which one transistor breaks down (its rated drain-source voltage).",
             &circuit::Switch::rated_voltage),
      rating("switch.avalanche_energy", "mJ", 1e-6, 1e3,
             "Energy one transistor bears in a single breakdown, from its data sheet.",
             &circuit::Switch::avalanche_energy),
      {.path = "switch.turn_off_time",
       .kind = Kind::quantity,
       .unit = "us",
       .lowest = 1e-9,
       .highest = 0.01,
       .meaning = "Time in which the current falls when the transistors are switched off.",
       .rule_in_words = "left out: taken as instantaneous",
       .applies = transistors,
       .applies_when = if_transistors,
       .set = [](Draft& d, const Value& v) { part(d).turn_off_time = v.number; }},
      {.path = "switch.protection",
       .kind = Kind::choice,
       .words = {"none", "clamp", "free-wheel diode"},
       .meaning = "What takes over the current when the transistors open: nothing, a clamp across "
                  "the switch (suppressor diode, varistor), or a diode across the leads.",
       .standard = {"none", "nothing unless you say so"},
       .applies = transistors,
       .applies_when = if_transistors,
       .set =
           [](Draft& d, const Value& v) {
             part(d).protection = v.text == "clamp"  ? circuit::Protection::clamp
                                  : v.text == "none" ? circuit::Protection::none
                                                     : circuit::Protection::freewheel;
           }},
      {.path = "switch.clamp_voltage",
       .kind = Kind::quantity,
       .unit = "V",
       .lowest = 0.1,
       .highest = 1e4,
       .meaning = "Voltage the clamp holds at the current that flows.",
       .required = true,
       .applies =
           [](const Draft& d) {
             return d.problem.circuit.power_switch.protection == circuit::Protection::clamp;
           },
       .applies_when = "switch.protection = \"clamp\"",
       .set = [](Draft& d, const Value& v) { part(d).clamp_voltage = v.number; }},
      {.path = "switch.diode_drop",
       .kind = Kind::quantity,
       .unit = "V",
       .lowest = 0.05,
       .highest = 10,
       .meaning = "Forward voltage of the free-wheel diode.",
       .standard = {"1 V", "silicon diode at a high current; typical"},
       .applies =
           [](const Draft& d) {
             return d.problem.circuit.power_switch.protection == circuit::Protection::freewheel;
           },
       .applies_when = "switch.protection = \"free-wheel diode\"",
       .set = [](Draft& d, const Value& v) { part(d).diode_drop = v.number; }},
  };
}

}  // namespace

std::vector<Key> switch_keys() {
  std::vector<Key> keys = resistance_keys();
  for (auto more : {timing_keys, turn_off_keys})
    for (Key& key : more()) keys.push_back(std::move(key));
  return keys;
}

}  // namespace tabmelt::schema
