// Cases used by several tests.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "io/case/read_case.h"
#include "tests/support/contains.h"

namespace tabmelt::testing {

// Reads a text as if it stood beside the shipped materials.
inline Case read(const std::string& text) {
  return read_case_text(text, std::filesystem::path(TABMELT_SOURCE_DIR) / "cases" / "sample.toml");
}

// A bank of small capacitors on slit strip.
inline const std::string bank_case =
    R"(# A usual weld. Every value is a text with its unit; what is left out has a default.
# `tabmelt explain` describes all keys, `tabmelt explain strip` those of one table.
title = "0.15 mm nickel strip on an 18650 cell"

[cell]
size = "18650"
end = "negative bottom"        # or "positive cap"

[strip]
material = "nickel-200"        # or "nickel-plated-steel", "copper", ...
thickness = "0.15 mm"
slit = true                    # a slit between the electrodes: no current returns through the strip

[pressing]
force = "25 N"                 # on each electrode

[source]                       # 20 parts in parallel: 94 mF, 12 J
kind = "capacitor bank"
part_capacitance = "4.7 mF"
part_esr = "20 mohm"
parallel = 20
charge_voltage = "16 V"
rated_voltage = "25 V"

[switch]
pulses = [["8 ms", "0 ms"]]    # on, off
)";

// What is complained about while something is done; empty: nothing.
template <typename Action>
std::vector<Complaint> complaints_of(const Action& action) {
  try {
    action();
  } catch (const InputError& error) {
    return error.complaints();
  }
  return {};
}

inline std::vector<Complaint> complaints_about(const std::string& text) {
  return complaints_of([&] { read(text); });
}

// The same as a user reads them.
template <typename Action>
std::string message_of(const Action& action) {
  const auto list = complaints_of(action);
  return list.empty() ? "" : InputError(list).what();
}

// A text with one of its words changed, where it stands first.
inline std::string with(std::string text, const std::string& word, const std::string& instead) {
  const std::size_t at = text.find(word);
  if (at == std::string::npos) throw std::logic_error("no \"" + word + "\" in this text");
  return text.replace(at, word.size(), instead);
}

// A check with constant properties and fixed contacts, no cell.
inline const std::string pure_check = R"case(title = "constant properties"
[electrode]
material = "my-copper"
tip_diameter = "1.5 mm"
taper_angle = "0 deg"
length = "3 mm"
[strip]
material = "my-nickel"
thickness = "0.15 mm"
rim_radius = "4 mm"
[can]
material = "my-steel"
thickness = "0.3 mm"
rim_radius = "4 mm"
[contact.tip]
law = "fixed"
area_resistance = "2.0e-9 ohm m2"
area_conductance = "1e5 W/m2/K"
[contact.faying]
law = "fixed"
area_resistance = "8.0e-9 ohm m2"
area_conductance = "5e4 W/(m2 K)"
[source]
kind = "exponential current"
peak = "600 A"
time_constant = "1.5 ms"
[numerics]
end_time = "5 ms"
[materials.my-copper]
density = "8960 kg/m3"
specific_heat = "385 J/kg/K"
thermal_conductivity = "390 W/m/K"
resistivity = "1.72e-8 ohm m"
[materials.my-nickel]
density = "8908 kg/m3"
specific_heat = "445 J/kg/K"
thermal_conductivity = "90 W/m/K"
resistivity = {value = "7e-8 ohm m", temperature_coefficient = "0.006 /K", reference_temperature = "293.15 K"}
melting = {solidus = "1728 K", liquidus = "1728 K", latent_heat = "2.978e5 J/kg"}
[materials.my-steel]
density = "7850 kg/m3"
specific_heat = "480 J/kg/K"
thermal_conductivity = "60 W/m/K"
resistivity = "14 µohm cm"
[[probe]]
name = "P3"
part = "can"
z = "0 mm"
)case";

// A battery, unswitched, opposed, with layers and a changed material.
inline const std::string opposed_battery = R"case([cell]
size = "21700"
end = "positive cap"
[arrangement]
kind = "opposed"
[electrode]
material = "tungsten"
tip_diameter = "0.8 mm"
tip_shape = "domed"
[strip]
material = "soft-nickel"
thickness = "0.1 mm"
[pressing]
force = "15 N"
closing = "unswitched"
[source]
kind = "battery"
open_circuit_voltage = "12.6 V"
internal_resistance = "5 mohm"
rated_current = "900 A"
[switch]
pulses = [["1 ms", "5 ms"], ["8 ms", "0 ms"]]
[limits]
inner_wall = "100 degC"
[[layer]]
name = "paper"
material = "separator-pp"
thickness = "0.3 mm"
limit = "90 °C"
[[layer]]
name = "roll"
material = "jelly-roll"
thickness = "5 mm"
[[probe]]
name = "under the paper"
part = "roll"
r = "0.2 mm"
z = "-0.8 mm"
[materials.soft-nickel]
base = "nickel-200"
hardness = "0.85 GPa"
)case";

// A stack of supercapacitors with everything around it in the words on the parts.
inline const std::string whole_bench = R"case([cell]
size = "26650"
end = "flat positive"
inside = "wet"
spots = 3
pause = "4 s"
[electrode]
rod_length = "25 mm"
[strip]
material = "nickel-200"
thickness = "0.12 mm"
[pressing]
force = "20 N"
[source]
kind = "supercapacitor"
part_capacitance = "100 F"
dissipation_factor = "30 %"
dissipation_frequency = "1 Hz"
series = 4
charge_voltage = "9 V"
balancing = "5 %"
esr_spread = 0.1
rated_ripple = "12 A"
thermal_resistance = "8 K/W"
esr_by_temperature = [["0 degC", "1.6"], ["25 degC", "1"]]
temperature = "12 degC"
[leads]
gauge = 6
material = "aluminium"
strands = "stranded or solid"
[[conductor]]
name = "frame"
material = "brass"
length = "120 mm"
cross_section = "12 mm2"
count = 2
inductance = "0.1 uH"
[switch]
parallel = 4
part_resistance = "1.1 mohm"
resistance_factor = 1.5
rated_voltage = "60 V"
avalanche_energy = "250 mJ"
turn_off_time = "1 us"
protection = "clamp"
clamp_voltage = "40 V"
first = "1 ms"
pause = "9 ms"
main = "4 ms"
[charger]
current = "5 A"
resistance = "0.2 ohm"
voltage = "9.2 V"
handling_time = "2 s"
[work]
welds_per_minute = 4
)case";

// A usual weld but for its source, and a bank for it.
inline const std::string head = R"([cell]
size = "18650"
end = "negative bottom"
[strip]
material = "nickel-200"
thickness = "0.15 mm"
[pressing]
force = "25 N"
)";
inline const std::string bank_source = R"([source]
kind = "capacitor bank"
part_capacitance = "4.7 mF"
part_esr = "20 mohm"
parallel = 20
charge_voltage = "16 V"
)";

}  // namespace tabmelt::testing
