// Keys of [source] about the series resistance of capacitors.
#include <algorithm>

#include "io/case/keys/usual.h"
#include "io/case/units.h"
#include "solver/circuit/capacitor.h"

namespace tabmelt::schema {
// What a data sheet says about the series resistance, if not the resistance itself.
std::vector<Key> esr_keys() {
  const Condition bank = for_banks();
  return {
      {.path = "source.dissipation_factor",
       .form = number(0, 5),
       .meaning = "Dissipation factor (tan delta) of one part from its data sheet, as a number or "
                  "in per cent; gives source.part_esr.",
       .spread = {"log-normal 1.25",
                  "data sheets give a maximum, age adds to it; engineering judgement"},
       .gives = "source.part_esr",
       .rule_in_words = "either source.part_esr or source.dissipation_factor is required",
       .applies = bank,
       .set = [](Draft& d, const Value& v) { d.dissipation_factor = v.number; }},
      {.path = "source.dissipation_frequency",
       .form = quantity("Hz", 1, 1e6),
       .meaning = "Frequency at which the data sheet gives the dissipation factor.",
       .standard = {"120 Hz", "usual for electrolytic capacitors, IEC 60384-4"},
       .applies = if_given("source.dissipation_factor", bank),
       .set = [](Draft& d, const Value& v) { d.dissipation_frequency = v.number; }},
      {.path = "source.part_esr",
       .form = quantity("mohm", 0, 10),
       .meaning =
           "Series resistance (ESR) of one part, from its data sheet; 0 ohm for an ideal one.",
       .required = true,
       .spread = {"log-normal 1.25",
                  "data sheets give a maximum, age adds to it; engineering judgement"},
       .rule = [](const Draft& d) -> std::optional<Standard> {
         if (!d.is_given("source.dissipation_factor") || !(d.bank.part_capacitance > 0) ||
             !(d.dissipation_frequency > 0))
           return std::nullopt;
         const double esr = circuit::esr_from_dissipation(
             d.dissipation_factor, d.bank.part_capacitance, d.dissipation_frequency);
         return Standard{units::in_unit(std::min(esr, 10.0), "mohm", 12),
                         "from the dissipation factor: tan d/(2 pi f C), IEC 60384-4"};
       },
       .rule_in_words = "worked out from source.dissipation_factor; one of them is required",
       .applies = bank,
       .set = [](Draft& d, const Value& v) { d.bank.part_esr = v.number; }},
      {.path = "source.esr_by_temperature",
       .form = pairs({"degC", 200, 500}, {"1", 0.01, 100}),
       .meaning =
           "Series resistance at other temperatures, as pairs of temperature and factor on "
           "the data-sheet value, e.g. [[\"-10 degC\", \"3\"], [\"20 degC\", \"1\"]]; straight "
           "lines between.",
       .rule_in_words = "left out: the data-sheet value at any temperature",
       .applies = bank,
       .set =
           [](Draft& d, const Value& v) {
             d.esr_table = v.pairs;
             std::sort(d.esr_table.begin(), d.esr_table.end());
           }},
      {.path = "source.temperature",
       .form = quantity("degC", 200, 500),
       .meaning = "Temperature of the capacitors, for source.esr_by_temperature.",
       .standard = {"20 degC", "a workshop; common practice, no source"},
       .applies = if_given("source.esr_by_temperature", bank),
       .set = [](Draft& d, const Value& v) { d.bank_temperature = v.number; }},
      {.path = "source.esr_spread",
       .form = number(0, 0.9),
       .meaning = "Spread of the parts' series resistance, as a fraction or in per cent; parallel "
                  "strings then share the current unevenly.",
       .standard = {"0.2", "parts of one batch; engineering judgement"},
       .applies = bank,
       .set = [](Draft& d, const Value& v) { d.bank.esr_spread = v.number; }},
  };
}

}  // namespace tabmelt::schema
