// Keys of [charger] and [work].
#include "io/case/keys/usual.h"
#include "io/case/units.h"

namespace tabmelt::schema {

std::vector<Key> charger_keys() {
  const Condition bank = for_banks();
  const Condition given{[](const Draft& d) { return d.has_charger(); },
                        "charger.current or charger.resistance is given"};
  return {
      {.path = "charger.current",
       .form = quantity("A", 1e-4, 1e4),
       .meaning = "Current limit of the supply that charges the bank.",
       .rule_in_words = "left out: charger.resistance alone limits the current",
       .applies = bank,
       .set = [](Draft& d, const Value& v) { d.charger.current_limit = v.number; }},
      {.path = "charger.resistance",
       .form = quantity("ohm", 0, 1e6),
       .meaning = "Resistor between supply and bank.",
       .rule = where([](const Draft& d) { return d.is_given("charger.current"); },
                     {"0 ohm", "no resistor unless you say so"}),
       .rule_in_words = "0 ohm if charger.current is given",
       .applies = bank,
       .set = [](Draft& d, const Value& v) { d.charger.series_resistance = v.number; }},
      {.path = "charger.voltage",
       .form = quantity("V", 0.01, 1e4),
       .meaning = "Voltage the supply is set to.",
       .rule = [](const Draft& d) -> std::optional<Standard> {
         if (!(d.bank.charge_voltage > 0)) return std::nullopt;  // missing, complained about there
         return Standard{units::in_unit(d.bank.charge_voltage, "V", 12), "source.charge_voltage"};
       },
       .rule_in_words = "source.charge_voltage",
       .applies = given,
       .set = [](Draft& d, const Value& v) { d.charger.set_voltage = v.number; }},
      {.path = "charger.handling_time",
       .form = quantity("s", 0, 1e4),
       .meaning = "Time lost between two welds besides charging.",
       .standard = {"1 s", "moving on by hand while the bank charges; engineering judgement"},
       .applies = given,
       .set = [](Draft& d, const Value& v) { d.problem.circuit.handling_time = v.number; }},
      {.path = "work.welds_per_minute",
       .form = number(0.001, 1000),
       .meaning = "Welds per minute at which leads and capacitors warm up.",
       .rule = [](const Draft& d) -> std::optional<Standard> {
         if (d.plain_circuit()) return std::nullopt;
         return Standard{"6", "one in ten seconds, by hand; engineering judgement"};
       },
       .rule_in_words = "6; left out for a prescribed current or without [cell]",
       .set = [](Draft& d, const Value& v) { d.problem.circuit.weld_rate = v.number / 60; }},
  };
}

}  // namespace tabmelt::schema
