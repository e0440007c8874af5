#include "io/study/advice_knobs.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace tabmelt {
namespace {

// How far a workshop can go: factors on the value, and ends that hold whatever it is [SI].
struct Reach {
  const char* key;
  const char* words;
  double least, most;  // factors
  double lowest, highest;
};

// Engineering judgement: what is bought or set without building another welder.
constexpr Reach reaches[] = {
    {"source.charge_voltage", "voltage of the bank", 0.3, 3, 0.5, 450},
    {"source.voltage", "voltage of the supply", 0.3, 3, 0.5, 60},
    {"source.open_circuit_voltage", "voltage of the battery", 0.4, 2.5, 3, 30},
    {"source.peak", "peak current", 0.3, 3, 50, 5000},
    {"source.parallel", "parts in parallel", 0.25, 4, 1, 100},
    {"pressing.force", "force", 0.25, 4, 5, 100},
    {"electrode.tip_diameter", "diameter of the tip", 0.5, 2, 0.8e-3, 4e-3},
    {"electrode.face_radius", "radius of the tip's face", 0.25, 4, 1e-3, 60e-3},
    {"strip.thickness", "thickness of the strip", 0.5, 2, 0.05e-3, 0.3e-3},
    {"leads.cross_section", "cross-section of the leads", 0.5, 4, 4e-6, 100e-6},
    {"leads.length", "length of the leads", 0.3, 1.5, 0.1, 2},
};
constexpr double shortest_pulse = 0.3e-3, longest_pulse = 40e-3;  // [s]
// A slit is cut in a minute; a strip of another thickness has to be bought.
constexpr double weight_of_slit = 0.5;

BenchKnob ranged(const Knob& knob, const std::string& words, double low, double high) {
  BenchKnob one{knob, {}, words};
  one.range.start = knob.value;
  one.range.whole = knob.whole();
  low = std::max(low, knob.address.lowest());
  high = std::min(high, knob.address.highest());
  if (one.range.whole) high = std::max(std::round(high), knob.value + 1);
  one.range.low = std::min(one.range.whole ? std::round(std::max(1.0, low)) : low, knob.value);
  one.range.high = std::max(high, knob.value);
  return one;
}

std::optional<double> number_in(const CaseValues& values, const std::string& key) {
  return values.of(*address_of(key));
}

double rated_voltage(const CaseValues& values) {
  const auto rated = number_in(values, "source.rated_voltage");
  const auto series = number_in(values, "source.series");
  return rated ? *rated * series.value_or(1) : std::numeric_limits<double>::max();
}

// The longest of the train: a first pulse that only seats the parts stays as it is.
std::optional<std::string> main_pulse(const CaseValues& values) {
  if (number_in(values, "switch.main")) return "switch.main";
  std::optional<std::string> longest;
  double most = 0;
  for (int n = 1; n <= 20; ++n) {
    const std::string key = fmt::format("switch.pulses.{}.1", n);
    const auto length = number_in(values, key);
    if (!length) break;
    if (*length > most) longest = key;
    most = std::max(most, *length);
  }
  return longest;
}

}  // namespace

std::vector<BenchKnob> bench_knobs(const Case& read) {
  const CaseValues values(read.full_text);
  std::vector<BenchKnob> knobs;
  for (const Reach& reach : reaches) {
    const auto value = number_in(values, reach.key);
    if (!value || !(*value > 0)) continue;
    double high = std::min(reach.highest, *value * reach.most);
    if (std::string(reach.key) == "source.charge_voltage")
      high = std::min(high, rated_voltage(values));
    knobs.push_back(ranged({reach.key, *address_of(reach.key), *value}, reach.words,
                           std::max(reach.lowest, *value * reach.least), high));
  }
  if (const auto pulse = main_pulse(values)) {
    const double value = *number_in(values, *pulse);
    knobs.push_back(ranged({*pulse, *address_of(*pulse), value}, "length of the pulse",
                           std::max(shortest_pulse, value / 6),
                           std::min(longest_pulse, value * 6)));
  }
  if (const auto slit = values.flag(*address_of("strip.slit"))) {
    BenchKnob knob{{"strip.slit", *address_of("strip.slit"), *slit ? 1.0 : 0.0}, {}, "slit"};
    knob.range = {knob.knob.value, 0, 1, false, true, weight_of_slit};
    knobs.push_back(std::move(knob));
  }
  return knobs;
}

std::vector<Knob> knobs_of(const std::vector<BenchKnob>& bench) {
  std::vector<Knob> knobs;
  for (const BenchKnob& one : bench) knobs.push_back(one.knob);
  return knobs;
}

std::vector<study::RemedyKnob> ranges_of(const std::vector<BenchKnob>& bench) {
  std::vector<study::RemedyKnob> ranges;
  for (const BenchKnob& one : bench) ranges.push_back(one.range);
  return ranges;
}

}  // namespace tabmelt
