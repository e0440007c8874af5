// Numbers as people at the bench write them: "0.568 mm", "131 °C", "4.21 ms". SI values in; three
// significant digits, four from 1000 up; "n/a" for what is not finite and for a temperature never
// recorded (0 K).
#pragma once

#include <string>

namespace tabmelt::in_words {

std::string number(double value, int significant = 2);  // without a unit, never as 1e3
std::string length(double metres);                      // "0.834 mm"
std::string temperature(double kelvin);                 // "162 °C", below 100 °C to a tenth
std::string temperature_rise(double kelvin);            // "35 K", of a difference
std::string duration(double seconds);                   // "4.21 ms", "1.35 s", "85 µs"
std::string resistance(double ohms);                    // "0.412 mΩ"
std::string energy(double joules);                      // "12.3 J", "4.2 mJ"
std::string mass(double kilograms);                     // "1.24 mg", "3.7 µg"
std::string percent(double share);                      // "37 %" of 1
// "+37 %", "-12 %"; "> +999 %" and "< -999 %" beyond that or where there is no number.
std::string margin(double share);
std::string damage(double share);     // "0.07 %", "below 0.001 %"
std::string voltage(double volts);    // "0.873 V"
std::string force(double newtons);    // "94 N"
std::string current(double amperes);  // "1230 A"
// "r 0.12 mm, z -0.3 mm": to a hundredth of a millimetre.
std::string place(double r, double z);
// Rounded to two significant digits, for an estimate.
double about(double value);
// By the SI unit a quantity carries: "K" (a temperature), "m", "m2", "s", "ohm", "J", "kg", "A",
// "V", "N", "1"; any other unit is written behind the number.
std::string quantity(double value, const std::string& unit);
// "stuck" -> "Stuck".
std::string capitalised(std::string text);

}  // namespace tabmelt::in_words
