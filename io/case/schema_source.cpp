// Keys of [source].
#include "io/case/schema.h"

namespace tabmelt::schema {
namespace {

std::function<bool(const Draft&)> only(SourceKind kind) {
  return [kind](const Draft& d) { return d.source_kind == kind; };
}

std::vector<Key> bank_keys() {
  const auto bank = only(SourceKind::capacitor_bank);
  const std::string when = "source.kind = \"capacitor bank\"";
  return {
      {.path = "source.part_capacitance",
       .kind = Kind::quantity,
       .unit = "mF",
       .lowest = 1e-6,
       .highest = 1e5,
       .meaning = "Capacitance printed on one part.",
       .required = true,
       .applies = bank,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.bank.part_capacitance = v.number; }},
      {.path = "source.part_esr",
       .kind = Kind::quantity,
       .unit = "mohm",
       .lowest = 0,
       .highest = 10,
       .meaning =
           "Series resistance (ESR) of one part, from its data sheet; 0 ohm for an ideal one.",
       .required = true,
       .applies = bank,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.bank.part_esr = v.number; }},
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
       .applies = bank,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.bank.charge_voltage = v.number; }},
      {.path = "source.rated_voltage",
       .kind = Kind::quantity,
       .unit = "V",
       .lowest = 0.1,
       .highest = 10000,
       .meaning = "Voltage printed on one part; a bank charged higher is reported.",
       .rule_in_words = "left out: not judged",
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
       .applies = battery,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.battery.open_circuit_voltage = v.number; }},
      {.path = "source.internal_resistance",
       .kind = Kind::quantity,
       .unit = "mohm",
       .lowest = 0,
       .highest = 10,
       .meaning = "Internal resistance of the whole battery.",
       .required = true,
       .applies = battery,
       .applies_when = when,
       .set = [](Draft& d, const Value& v) { d.battery.internal_resistance = v.number; }},
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
       .words = {"capacitor bank", "battery", "exponential current", "measured current"},
       .meaning = "What delivers the current.",
       .required = true,
       .set =
           [](Draft& d, const Value& v) {
             d.source_kind = v.text == "battery"               ? SourceKind::battery
                             : v.text == "exponential current" ? SourceKind::exponential_current
                             : v.text == "measured current"    ? SourceKind::measured_current
                                                               : SourceKind::capacitor_bank;
           }},
  };
  for (auto part : {bank_keys, battery_keys, prescribed_keys})
    for (Key& key : part()) keys.push_back(std::move(key));
  keys.push_back(
      {.path = "source.rated_current",
       .kind = Kind::quantity,
       .unit = "A",
       .lowest = 1e-3,
       .highest = 1e6,
       .meaning = "Peak current allowed for one capacitor, or for the battery; more is reported.",
       .rule_in_words = "left out: not judged",
       .applies = [](const Draft& d) { return !d.prescribed(); },
       .applies_when = "source.kind is \"capacitor bank\" or \"battery\"",
       .set = [](Draft& d,
                 const Value& v) { d.bank.rated_current = d.battery.rated_current = v.number; }});
  return keys;
}

}  // namespace tabmelt::schema
