// Quantities as a person at the bench writes them: "0.62 mm", "131 °C", "38 %". Two or three
// significant digits; SI values in.
#pragma once

#include <string>

namespace tabmelt::in_words {

std::string number(double value, int significant = 2);
std::string length(double metres);            // mm
std::string temperature(double kelvin);       // °C, whole degrees
std::string temperature_rise(double kelvin);  // °C, whole degrees, of a difference
std::string duration(double seconds);         // us, ms or s
std::string energy(double joules);            // mJ or J
std::string percent(double share);            // of 1
std::string voltage(double volts);
std::string force(double newtons);
std::string current(double amperes);  // A or kA
// By the SI unit a finding carries ("K", "m", "J", "V", "kg", "1").
std::string quantity(double value, const std::string& unit);
// "stuck" -> "Stuck".
std::string capitalised(std::string text);

}  // namespace tabmelt::in_words
