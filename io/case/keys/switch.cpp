// Keys of [switch].
#include <fmt/format.h>

#include <algorithm>

#include "io/case/keys/usual.h"
#include "io/case/units.h"

namespace tabmelt::schema {
namespace {

using circuit::Protection;
using circuit::SwitchKind;

constexpr Word<SwitchKind> switch_kinds[] = {{"transistors", SwitchKind::transistors},
                                             {"contactor", SwitchKind::contactor},
                                             {"thyristor", SwitchKind::thyristor}};
constexpr Word<Protection> protections[] = {{"none", Protection::none},
                                            {"clamp", Protection::clamp},
                                            {"free-wheel diode", Protection::freewheel}};

Condition only(SwitchKind kind) {
  return {[kind](const Draft& d) { return d.problem.circuit.power_switch.kind == kind; },
          fmt::format("switch.kind = \"{}\"", word_for(switch_kinds, kind))};
}

Condition only(Protection protection) {
  return {[protection](const Draft& d) {
            return d.problem.circuit.power_switch.protection == protection;
          },
          fmt::format("switch.protection = \"{}\"", word_for(protections, protection))};
}

bool is_thyristor(const Draft& d) {
  return d.problem.circuit.power_switch.kind == SwitchKind::thyristor;
}

circuit::Switch& part(Draft& d) { return d.problem.circuit.power_switch; }

std::vector<Key> resistance_keys() {
  const Condition transistors = only(SwitchKind::transistors);
  const Standard on{"0.5 mohm",
                    "several MOSFETs of about 1 mohm in parallel, warm, with their busbars; "
                    "engineering judgement"};
  return {
      {.path = "switch.kind",
       .form = choice(words_of(switch_kinds)),
       .meaning =
           "Transistors open at any current; a contactor bounces; a thyristor conducts until "
           "the current has come to zero.",
       .standard = {"transistors", "common practice, no source"},
       .set = [](Draft& d, const Value& v) { part(d).kind = meant(switch_kinds, v.text); }},
      {.path = "switch.parallel",
       .form = count(1, 1000),
       .meaning = "Transistors in parallel.",
       .standard = {"1", "figures per part are then those of the whole switch"},
       .applies = transistors,
       .set = [](Draft& d, const Value& v) { part(d).parallel = v.count(); }},
      {.path = "switch.part_resistance",
       .form = quantity("mohm", 0, 10),
       .meaning = "On-resistance of one transistor, cold, from its data sheet.",
       .spread = {"15 %", "temperature of the silicon; engineering judgement"},
       .gives = "switch.on_resistance",
       .rule_in_words = "left out: switch.on_resistance counts",
       .applies = transistors,
       .set = [](Draft& d, const Value& v) { d.switch_part_resistance = v.number; }},
      {.path = "switch.resistance_factor",
       .form = number(0.5, 5),
       .meaning = "On-resistance at the temperature of the transistors over the cold one.",
       .standard = {"1.3", "silicon at about 75 degC; typical of data sheets"},
       .applies = if_given("switch.part_resistance", transistors),
       .set = [](Draft& d, const Value& v) { d.switch_resistance_factor = v.number; }},
      {.path = "switch.on_resistance",
       .form = quantity("mohm", 0, 10),
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
       .form = quantity("V", 0.1, 10),
       .meaning = "Constant part of the voltage over the conducting thyristor.",
       .standard = {"1.2 V", "typical of data sheets, 1 to 1.5 V"},
       .applies = only(SwitchKind::thyristor),
       .set = [](Draft& d, const Value& v) { part(d).forward_drop = v.number; }},
  };
}

std::vector<Key> timing_keys() {
  const Condition contactor = only(SwitchKind::contactor);
  const Condition opens{[](const Draft& d) { return !is_thyristor(d); },
                        "switch.kind is \"transistors\" or \"contactor\""};
  const Condition pattern{
      [](const Draft& d) { return !is_thyristor(d) && !d.is_given("switch.pulses"); },
      "switch.pulses is left out and the switch is no thyristor"};
  const auto time = [&](const std::string& path, const std::string& meaning, double lowest,
                        double Draft::*which) {
    return Key{.path = path,
               .form = quantity("ms", lowest, 1000),
               .meaning = meaning,
               .rule_in_words = "left out: switch.pulses counts",
               .applies = pattern,
               .set = [which](Draft& d, const Value& v) { d.*which = v.number; }};
  };
  return {
      {.path = "switch.pulses",
       .form = pairs({"ms", 1e-7, 1000}, {"ms", 0, 1000}),
       .meaning = "Pulse train as pairs of on and off time, e.g. [[\"1 ms\", \"5 ms\"], [\"8 ms\", "
                  "\"0 ms\"]]: a short first pulse, a pause, the main pulse.",
       .rule_in_words = "left out: conducts until the end",
       .applies = opens,
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
       .form = count(0, 20),
       .meaning =
           "How often the contactor opens again before it stays closed; it conducts for half "
           "of each bounce.",
       .standard = {"0", "none unless you say so"},
       .applies = contactor,
       .set = [](Draft& d, const Value& v) { d.bounces = v.count(); }},
      {.path = "switch.bounce_time",
       .form = quantity("ms", 1e-6, 0.1),
       .meaning = "Time from one closing to the next while it bounces.",
       .standard = {"1 ms", "contactors 0.5 to 3 ms; engineering judgement"},
       .applies = {[contactor](const Draft& d) { return contactor.holds(d) && d.bounces > 0; },
                   "switch.bounces is given"},
       .set = [](Draft& d, const Value& v) { d.bounce_time = v.number; }},
  };
}

std::vector<Key> turn_off_keys() {
  const Condition transistors = only(SwitchKind::transistors);
  const auto rating = [&](const std::string& path, const std::string& unit, double lowest,
                          double highest, const std::string& meaning,
                          std::optional<double> circuit::Switch::*which) {
    return Key{.path = path,
               .form = quantity(unit, lowest, highest),
               .meaning = meaning,
               .rule_in_words = "left out: not judged",
               .applies = transistors,
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
       .form = quantity("us", 1e-9, 0.01),
       .meaning = "Time in which the current falls when the transistors are switched off.",
       .rule_in_words = "left out: taken as instantaneous",
       .applies = transistors,
       .set = [](Draft& d, const Value& v) { part(d).turn_off_time = v.number; }},
      {.path = "switch.protection",
       .form = choice(words_of(protections)),
       .meaning = "What takes over the current when the transistors open: nothing, a clamp across "
                  "the switch (suppressor diode, varistor), or a diode across the leads.",
       .standard = {"none", "nothing unless you say so"},
       .applies = transistors,
       .set = [](Draft& d, const Value& v) { part(d).protection = meant(protections, v.text); }},
      {.path = "switch.clamp_voltage",
       .form = quantity("V", 0.1, 1e4),
       .meaning = "Voltage the clamp holds at the current that flows.",
       .required = true,
       .applies = only(Protection::clamp),
       .set = [](Draft& d, const Value& v) { part(d).clamp_voltage = v.number; }},
      {.path = "switch.diode_drop",
       .form = quantity("V", 0.05, 10),
       .meaning = "Forward voltage of the free-wheel diode.",
       .standard = {"1 V", "silicon diode at a high current; typical"},
       .applies = only(Protection::freewheel),
       .set = [](Draft& d, const Value& v) { part(d).diode_drop = v.number; }},
  };
}

}  // namespace

std::vector<Key> switch_keys() {
  return joined({resistance_keys(), timing_keys(), turn_off_keys()});
}

}  // namespace tabmelt::schema
