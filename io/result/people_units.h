// SI numbers as people at the bench write them: degrees Celsius, millimetres, milliseconds,
// milliohms. Three to four significant digits; "n/a" for a number that is not finite
// and for a temperature never recorded (0 K).
#pragma once

#include <string>

namespace tabmelt {

std::string celsius_text(double kelvin);            // "162 °C"
std::string kelvin_difference_text(double kelvin);  // "35 K"
std::string millimetre_text(double metres);         // "0.834 mm"
std::string duration_text(double seconds);          // "4.21 ms", "1.35 s", "85 µs"
std::string milliohm_text(double ohms);             // "0.412 mΩ"
std::string energy_text(double joules);             // "12.3 J", "4.2 mJ"
std::string mass_text(double kilograms);            // "1.24 mg", "3.7 µg"
std::string current_text(double amperes);           // "1230 A"
std::string voltage_text(double volts);             // "0.873 V"
std::string force_text(double newtons);             // "94 N"
std::string percent_text(double fraction);          // "37 %"
std::string damage_text(double fraction);           // "0.07 %", "below 0.001 %"

// By SI unit as in Finding::unit: "K" (a temperature), "m", "s", "ohm", "J", "kg", "A", "V", "N",
// "1"; any other unit is written behind the number.
std::string people_text(double value, const std::string& si_unit);

}  // namespace tabmelt
