// Keys of [source].
#include <fmt/format.h>

#include "io/case/keys/usual.h"

namespace tabmelt::schema {
namespace {

constexpr Word<SourceKind> source_kinds[] = {
    {"capacitor bank", SourceKind::capacitor_bank},
    {"supercapacitor", SourceKind::supercapacitor},
    {"battery", SourceKind::battery},
    {"bench supply", SourceKind::bench_supply},
    {"exponential current", SourceKind::exponential_current},
    {"measured current", SourceKind::measured_current}};

Condition only(SourceKind kind) {
  return {[kind](const Draft& d) { return d.source_kind == kind; },
          fmt::format("source.kind = \"{}\"", word_for(source_kinds, kind))};
}

std::vector<Key> bank_keys() {
  const Condition bank = for_banks();
  return {
      {.path = "source.series",
       .form = count(1, 1000),
       .meaning = "Parts in series in each string.",
       .standard = {"1", "single parts; common practice, no source"},
       .applies = bank,
       .set = [](Draft& d, const Value& v) { d.bank.series = v.count(); }},
      {.path = "source.parallel",
       .form = count(1, 100000),
       .meaning = "Strings in parallel.",
       .standard = {"1", "one string unless you say so"},
       .applies = bank,
       .set = [](Draft& d, const Value& v) { d.bank.parallel = v.count(); }},
      {.path = "source.charge_voltage",
       .form = quantity("V", 0.01, 10000),
       .meaning = "Voltage of the whole bank before the pulse.",
       .required = true,
       .spread = {"1 %", "a panel meter; engineering judgement"},
       .applies = bank,
       .set = [](Draft& d, const Value& v) { d.bank.charge_voltage = v.number; }},
      {.path = "source.rated_voltage",
       .form = quantity("V", 0.1, 10000),
       .meaning = "Voltage printed on one part; a bank charged higher is reported.",
       .rule = where(only(SourceKind::supercapacitor).holds,
                     {"2.7 V",
                      "usual limit of one double-layer cell; common practice, no "
                      "source"}),
       .rule_in_words = "2.7 V for a supercapacitor; otherwise left out: not judged",
       .applies = bank,
       .set = [](Draft& d, const Value& v) { d.bank.rated_voltage = v.number; }},
      {.path = "source.tolerance",
       .form = number(0, 0.9),
       .meaning = "Spread of the parts' capacitance, as a fraction or in per cent.",
       .standard = {"0.2", "20 %, code letter M of IEC 60062"},
       .applies = bank,
       .set = [](Draft& d, const Value& v) { d.bank.tolerance = v.number; }},
      {.path = "source.balancing",
       .form = number(0, 1),
       .meaning = "How far one cell's voltage may stray from its even share with the balancing "
                  "board you use, as a fraction or in per cent.",
       .standard = {"0.1", "resistors or a board per cell; engineering judgement"},
       .applies = only(SourceKind::supercapacitor),
       .set = [](Draft& d, const Value& v) { d.bank.balancing = v.number; }},
      {.path = "source.rated_ripple",
       .form = quantity("A", 1e-3, 1e5),
       .meaning =
           "Ripple current (r.m.s.) allowed for one part; compared with that at your rate of "
           "welds.",
       .rule_in_words = "left out: not judged",
       .applies = bank,
       .set = [](Draft& d, const Value& v) { d.bank.rated_ripple = v.number; }},
      {.path = "source.thermal_resistance",
       .form = quantity("K/W", 1e-3, 1e4),
       .meaning = "Temperature rise of one part over the air for each watt lost in it.",
       .rule_in_words = "left out: only the power is reported",
       .applies = bank,
       .set = [](Draft& d, const Value& v) { d.bank.thermal_resistance = v.number; }},
  };
}

std::vector<Key> battery_keys() {
  const Condition battery = only(SourceKind::battery);
  return {
      {.path = "source.open_circuit_voltage",
       .form = quantity("V", 0.01, 1000),
       .meaning = "Voltage of the battery without load.",
       .required = true,
       .spread = {"2 %", "state of charge; engineering judgement"},
       .applies = battery,
       .set = [](Draft& d, const Value& v) { d.battery.open_circuit_voltage = v.number; }},
      {.path = "source.cut_off_current",
       .form = quantity("A", 1e-3, 1e6),
       .meaning = "Current at which the protection of the battery opens, for good.",
       .rule_in_words = "left out: no protection",
       .applies = battery,
       .set = [](Draft& d, const Value& v) { d.battery.cut_off_current = v.number; }},
      {.path = "source.cut_off_delay",
       .form = quantity("ms", 0, 100),
       .meaning = "How long the current must stay there before the protection opens.",
       .standard = {"0.2 ms",
                    "short-circuit delay of protection boards 0.1 to 0.5 ms; "
                    "engineering judgement"},
       .applies = if_given("source.cut_off_current", battery),
       .set = [](Draft& d, const Value& v) { d.battery.cut_off_delay = v.number; }},
  };
}

std::vector<Key> supply_keys() {
  const Condition supply = only(SourceKind::bench_supply);
  return {
      {.path = "source.voltage",
       .form = quantity("V", 0.01, 1000),
       .meaning = "Voltage the supply is set to.",
       .required = true,
       .spread = {"1 %", "a panel meter; engineering judgement"},
       .applies = supply,
       .set = [](Draft& d, const Value& v) { d.supply.voltage = v.number; }},
      {.path = "source.current_limit",
       .form = quantity("A", 1e-3, 1e5),
       .meaning = "Current the supply is limited to; held at once when it is reached, but for what "
                  "its output capacitor adds.",
       .required = true,
       .applies = supply,
       .set = [](Draft& d, const Value& v) { d.supply.current_limit = v.number; }},
      {.path = "source.output_capacitance",
       .form = quantity("mF", 0, 10),
       .meaning = "Capacitor across the output of the supply; it dumps its charge into the weld "
                  "before the limit holds. 0 mF: none.",
       .rule = usual({"1 mF", "bench supplies 0.5 to 3 mF; engineering judgement"}, "0 mF"),
       .rule_in_words = in_words({"1 mF", ""}, "0 mF"),
       .applies = supply,
       .set = [](Draft& d, const Value& v) { d.supply.output_capacitance = v.number; }},
      {.path = "source.output_esr",
       .form = quantity("mohm", 0, 10),
       .meaning = "Series resistance (ESR) of that capacitor.",
       .standard = {"30 mohm", "electrolytic capacitors of about 1 mF; engineering judgement"},
       .applies = {[supply](const Draft& d) {
                     return supply.holds(d) && d.supply.output_capacitance > 0;
                   },
                   "source.output_capacitance is above zero"},
       .set = [](Draft& d, const Value& v) { d.supply.output_esr = v.number; }},
      {.path = "source.internal_resistance",
       .form = quantity("mohm", 0, 10),
       .meaning = "Internal resistance of the whole battery, or of the supply below its limit.",
       .required = true,
       .spread = {"log-normal 1.15", "state of charge, age and temperature; engineering judgement"},
       .rule = where(supply.holds,
                     {"10 mohm", "regulated supply with its terminals; engineering judgement"}),
       .rule_in_words = "10 mohm for a bench supply; required for a battery",
       .applies = {[](const Draft& d) {
                     return d.source_kind == SourceKind::battery ||
                            d.source_kind == SourceKind::bench_supply;
                   },
                   "source.kind is \"battery\" or \"bench supply\""},
       .set =
           [](Draft& d, const Value& v) {
             d.battery.internal_resistance = d.supply.internal_resistance = v.number;
           }},
  };
}

std::vector<Key> prescribed_keys() {
  const Condition exponential = only(SourceKind::exponential_current);
  const Condition measured = only(SourceKind::measured_current);
  return {
      {.path = "source.peak",
       .form = quantity("A", 1e-3, 1e6),
       .meaning = "I(t) = peak exp(-t/time_constant) from the first closing of the switch.",
       .required = true,
       .spread = {"2 %", "a shunt and its amplifier; engineering judgement"},
       .applies = exponential,
       .set = [](Draft& d, const Value& v) { d.exponential.peak = v.number; }},
      {.path = "source.time_constant",
       .form = quantity("ms", 1e-7, 1e12),
       .meaning = "Time in which the current falls to 1/e; a very long one means constant current.",
       .required = true,
       .applies = exponential,
       .set = [](Draft& d, const Value& v) { d.exponential.time_constant = v.number; }},
      {.path = "source.file",
       .form = {Kind::text},
       .meaning =
           "Table of the measured current beside the case: text in columns divided by commas, "
           "first line `time [ms],current [A]` with the units of your instrument.",
       .rule_in_words = "either source.file or source.table is required",
       .applies = measured},
      {.path = "source.table",
       .form = pairs({"ms", -1e3, 1e6}, {"A", -1e6, 1e6}, 100000),
       .meaning = "Measured current as pairs of time and current, straight lines between, zero "
                  "outside; times must increase.",
       .rule_in_words = "either source.file or source.table is required",
       .applies = measured,
       .set =
           [](Draft& d, const Value& v) {
             d.trace = {};
             for (const auto& [time, current] : v.pairs) {
               d.trace.time.push_back(time);
               d.trace.current.push_back(current);
             }
           }},
  };
}

}  // namespace

std::vector<Key> source_keys() {
  const std::vector<Key> first{
      {.path = "source.kind",
       .form = choice(words_of(source_kinds)),
       .meaning = "What delivers the current.",
       .required = true,
       .set = [](Draft& d, const Value& v) { d.source_kind = meant(source_kinds, v.text); }},
      {.path = "source.part_capacitance",
       .form = quantity("mF", 1e-6, 1e5),
       .meaning = "Capacitance printed on one part.",
       .required = true,
       .spread = {"10 %",
                  "mean of a batch whose parts keep 20 % (code letter M of IEC 60062); engineering "
                  "judgement"},
       .applies = for_banks(),
       .set = [](Draft& d, const Value& v) { d.bank.part_capacitance = v.number; }},
  };
  const std::vector<Key> last{
      {.path = "source.rated_current",
       .form = quantity("A", 1e-3, 1e6),
       .meaning = "Peak current allowed for one capacitor, or for the battery; more is reported.",
       .rule_in_words = "left out: not judged",
       .applies = {[](const Draft& d) {
                     return d.bank_kind() || d.source_kind == SourceKind::battery;
                   },
                   "source.kind is \"capacitor bank\", \"supercapacitor\" or \"battery\""},
       .set = [](Draft& d,
                 const Value& v) { d.bank.rated_current = d.battery.rated_current = v.number; }},
  };
  // The resistance of capacitors may follow from the capacitance, which is read before it.
  return joined(
      {first, esr_keys(), bank_keys(), battery_keys(), supply_keys(), prescribed_keys(), last});
}

}  // namespace tabmelt::schema
