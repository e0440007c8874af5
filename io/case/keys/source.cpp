// Keys of [source].
#include "io/case/keys/usual.h"

namespace tabmelt::schema {
namespace {

std::function<bool(const Draft&)> only(SourceKind kind) {
  return [kind](const Draft& d) { return d.source_kind == kind; };
}

std::vector<Key> bank_keys() {
  const auto bank = [](const Draft& d) { return d.bank_kind(); };
  const std::string when = bank_or_supercapacitor;
  return {
      {.path = "source.part_capacitance",
       .kind = Kind::quantity,
       .unit = "mF",
       .lowest = 1e-6,
       .highest = 1e5,
       .meaning = "Capacitance printed on one part.",
       .required = true,
       .spread = {"10 %",
                  "mean of a batch whose parts keep 20 % (code letter M of IEC 60062); engineering "
                  "judgement"},
       .applies = bank,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.bank.part_capacitance = v.number; }},
      {.path = "source.series",
       .kind = Kind::count,
       .lowest = 1,
       .highest = 1000,
       .meaning = "Parts in series in each string.",
       .standard = {"1", "single parts; common practice, no source"},
       .applies = bank,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.bank.series = static_cast<int>(v.number); }},
      {.path = "source.parallel",
       .kind = Kind::count,
       .lowest = 1,
       .highest = 100000,
       .meaning = "Strings in parallel.",
       .standard = {"1", "one string unless you say so"},
       .applies = bank,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.bank.parallel = static_cast<int>(v.number); }},
      {.path = "source.charge_voltage",
       .kind = Kind::quantity,
       .unit = "V",
       .lowest = 0.01,
       .highest = 10000,
       .meaning = "Voltage of the whole bank before the pulse.",
       .required = true,
       .spread = {"1 %", "a panel meter; engineering judgement"},
       .applies = bank,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.bank.charge_voltage = v.number; }},
      {.path = "source.rated_voltage",
       .kind = Kind::quantity,
       .unit = "V",
       .lowest = 0.1,
       .highest = 10000,
       .meaning = "Voltage printed on one part; a bank charged higher is reported.",
       .rule = [](const Draft& d) -> std::optional<Standard> {
         if (d.source_kind == SourceKind::supercapacitor)
           return Standard{"2.7 V",
                           "usual limit of one double-layer cell; common practice, no "
                           "source"};
         return std::nullopt;
       },
       .rule_in_words = "2.7 V for a supercapacitor; otherwise left out: not judged",
       .applies = bank,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.bank.rated_voltage = v.number; }},
      {.path = "source.tolerance",
       .kind = Kind::number,
       .lowest = 0,
       .highest = 0.9,
       .meaning = "Spread of the parts' capacitance, as a fraction or in per cent.",
       .standard = {"0.2", "20 %, code letter M of IEC 60062"},
       .applies = bank,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.bank.tolerance = v.number; }},
      {.path = "source.balancing",
       .kind = Kind::number,
       .lowest = 0,
       .highest = 1,
       .meaning = "How far one cell's voltage may stray from its even share with the balancing "
                  "board you use, as a fraction or in per cent.",
       .standard = {"0.1", "resistors or a board per cell; engineering judgement"},
       .applies = only(SourceKind::supercapacitor),
       .applies_when = "source.kind = \"supercapacitor\"",
       .set = [](Draft& d, const Value& v) { d.bank.balancing = v.number; }},
      {.path = "source.rated_ripple",
       .kind = Kind::quantity,
       .unit = "A",
       .lowest = 1e-3,
       .highest = 1e5,
       .meaning =
           "Ripple current (r.m.s.) allowed for one part; compared with that at your rate of "
           "welds.",
       .rule_in_words = "left out: not judged",
       .applies = bank,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.bank.rated_ripple = v.number; }},
      {.path = "source.thermal_resistance",
       .kind = Kind::quantity,
       .unit = "K/W",
       .lowest = 1e-3,
       .highest = 1e4,
       .meaning = "Temperature rise of one part over the air for each watt lost in it.",
       .rule_in_words = "left out: only the power is reported",
       .applies = bank,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.bank.thermal_resistance = v.number; }},
  };
}

std::vector<Key> battery_keys() {
  const auto battery = only(SourceKind::battery);
  const std::string when = "source.kind = \"battery\"";
  return {
      {.path = "source.open_circuit_voltage",
       .kind = Kind::quantity,
       .unit = "V",
       .lowest = 0.01,
       .highest = 1000,
       .meaning = "Voltage of the battery without load.",
       .required = true,
       .spread = {"2 %", "state of charge; engineering judgement"},
       .applies = battery,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.battery.open_circuit_voltage = v.number; }},
      {.path = "source.cut_off_current",
       .kind = Kind::quantity,
       .unit = "A",
       .lowest = 1e-3,
       .highest = 1e6,
       .meaning = "Current at which the protection of the battery opens, for good.",
       .rule_in_words = "left out: no protection",
       .applies = battery,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.battery.cut_off_current = v.number; }},
      {.path = "source.cut_off_delay",
       .kind = Kind::quantity,
       .unit = "ms",
       .lowest = 0,
       .highest = 100,
       .meaning = "How long the current must stay there before the protection opens.",
       .standard = {"0.2 ms",
                    "short-circuit delay of protection boards 0.1 to 0.5 ms; "
                    "engineering judgement"},
       .applies =
           [battery](const Draft& d) { return battery(d) && d.is_given("source.cut_off_current"); },
       .applies_when = "source.cut_off_current is given",
       .set = [](Draft& d, const Value& v) { d.battery.cut_off_delay = v.number; }},
  };
}

std::vector<Key> supply_keys() {
  const auto supply = only(SourceKind::bench_supply);
  const std::string when = "source.kind = \"bench supply\"";
  return {
      {.path = "source.voltage",
       .kind = Kind::quantity,
       .unit = "V",
       .lowest = 0.01,
       .highest = 1000,
       .meaning = "Voltage the supply is set to.",
       .required = true,
       .spread = {"1 %", "a panel meter; engineering judgement"},
       .applies = supply,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.supply.voltage = v.number; }},
      {.path = "source.current_limit",
       .kind = Kind::quantity,
       .unit = "A",
       .lowest = 1e-3,
       .highest = 1e5,
       .meaning = "Current the supply is limited to; held at once when it is reached, but for what "
                  "its output capacitor adds.",
       .required = true,
       .applies = supply,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.supply.current_limit = v.number; }},
      {.path = "source.output_capacitance",
       .kind = Kind::quantity,
       .unit = "mF",
       .lowest = 0,
       .highest = 10,
       .meaning = "Capacitor across the output of the supply; it dumps its charge into the weld "
                  "before the limit holds. 0 mF: none.",
       .rule = usual({"1 mF", "bench supplies 0.5 to 3 mF; engineering judgement"}, "0 mF"),
       .rule_in_words = in_words({"1 mF", ""}, "0 mF"),
       .applies = supply,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.supply.output_capacitance = v.number; }},
      {.path = "source.output_esr",
       .kind = Kind::quantity,
       .unit = "mohm",
       .lowest = 0,
       .highest = 10,
       .meaning = "Series resistance (ESR) of that capacitor.",
       .standard = {"30 mohm", "electrolytic capacitors of about 1 mF; engineering judgement"},
       .applies = [supply](const Draft& d) { return supply(d) && d.supply.output_capacitance > 0; },
       .applies_when = "source.output_capacitance is above zero",
       .set = [](Draft& d, const Value& v) { d.supply.output_esr = v.number; }},
      {.path = "source.internal_resistance",
       .kind = Kind::quantity,
       .unit = "mohm",
       .lowest = 0,
       .highest = 10,
       .meaning = "Internal resistance of the whole battery, or of the supply below its limit.",
       .required = true,
       .spread = {"log-normal 1.15", "state of charge, age and temperature; engineering judgement"},
       .rule = [](const Draft& d) -> std::optional<Standard> {
         if (d.source_kind == SourceKind::bench_supply)
           return Standard{"10 mohm", "regulated supply with its terminals; engineering judgement"};
         return std::nullopt;
       },
       .rule_in_words = "10 mohm for a bench supply; required for a battery",
       .applies =
           [](const Draft& d) {
             return d.source_kind == SourceKind::battery ||
                    d.source_kind == SourceKind::bench_supply;
           },
       .applies_when = "source.kind is \"battery\" or \"bench supply\"",
       .set =
           [](Draft& d, const Value& v) {
             d.battery.internal_resistance = d.supply.internal_resistance = v.number;
           }},
  };
}

std::vector<Key> prescribed_keys() {
  const auto exponential = only(SourceKind::exponential_current);
  const auto measured = only(SourceKind::measured_current);
  const std::string if_exponential = "source.kind = \"exponential current\"";
  const std::string if_measured = "source.kind = \"measured current\"";
  return {
      {.path = "source.peak",
       .kind = Kind::quantity,
       .unit = "A",
       .lowest = 1e-3,
       .highest = 1e6,
       .meaning = "I(t) = peak exp(-t/time_constant) from the first closing of the switch.",
       .required = true,
       .spread = {"2 %", "a shunt and its amplifier; engineering judgement"},
       .applies = exponential,
       .applies_when = if_exponential,
       .set = [](Draft& d, const Value& v) { d.exponential.peak = v.number; }},
      {.path = "source.time_constant",
       .kind = Kind::quantity,
       .unit = "ms",
       .lowest = 1e-7,
       .highest = 1e12,
       .meaning = "Time in which the current falls to 1/e; a very long one means constant current.",
       .required = true,
       .applies = exponential,
       .applies_when = if_exponential,
       .set = [](Draft& d, const Value& v) { d.exponential.time_constant = v.number; }},
      {.path = "source.file",
       .kind = Kind::text,
       .meaning =
           "Table of the measured current beside the case: text in columns divided by commas, "
           "first line `time [ms],current [A]` with the units of your instrument.",
       .rule_in_words = "either source.file or source.table is required",
       .applies = measured,
       .applies_when = if_measured},
      {.path = "source.table",
       .kind = Kind::pairs,
       .unit = "ms",
       .lowest = -1e3,
       .highest = 1e6,
       .meaning = "Measured current as pairs of time and current, straight lines between, zero "
                  "outside; times must increase.",
       .second_unit = "A",
       .second_lowest = -1e6,
       .second_highest = 1e6,
       .most_pairs = 100000,
       .rule_in_words = "either source.file or source.table is required",
       .applies = measured,
       .applies_when = if_measured,
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
  std::vector<Key> keys{
      {.path = "source.kind",
       .kind = Kind::choice,
       .words = {"capacitor bank", "supercapacitor", "battery", "bench supply",
                 "exponential current", "measured current"},
       .meaning = "What delivers the current.",
       .required = true,
       .set =
           [](Draft& d, const Value& v) {
             d.source_kind = v.text == "battery"               ? SourceKind::battery
                             : v.text == "supercapacitor"      ? SourceKind::supercapacitor
                             : v.text == "bench supply"        ? SourceKind::bench_supply
                             : v.text == "exponential current" ? SourceKind::exponential_current
                             : v.text == "measured current"    ? SourceKind::measured_current
                                                               : SourceKind::capacitor_bank;
           }},
  };
  for (auto part : {bank_keys, battery_keys, supply_keys, prescribed_keys})
    for (Key& key : part()) {
      const bool capacitance = key.path == "source.part_capacitance";
      keys.push_back(std::move(key));
      // The resistance may follow from the capacitance.
      if (!capacitance) continue;
      for (Key& more : esr_keys()) keys.push_back(std::move(more));
    }
  keys.push_back(
      {.path = "source.rated_current",
       .kind = Kind::quantity,
       .unit = "A",
       .lowest = 1e-3,
       .highest = 1e6,
       .meaning = "Peak current allowed for one capacitor, or for the battery; more is reported.",
       .rule_in_words = "left out: not judged",
       .applies =
           [](const Draft& d) { return d.bank_kind() || d.source_kind == SourceKind::battery; },
       .applies_when = "source.kind is \"capacitor bank\", \"supercapacitor\" or \"battery\"",
       .set = [](Draft& d,
                 const Value& v) { d.bank.rated_current = d.battery.rated_current = v.number; }});
  return keys;
}

}  // namespace tabmelt::schema
