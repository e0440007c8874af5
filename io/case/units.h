// Quantities with units in text, through UDUNITS-2: "4.7 mF", "16 mm2", "1e5 W/(m2 K)", "120 degC".
//
// A reference unit says what is wanted ("mm": a length). "degC" wants an absolute temperature,
// "K" a difference of temperatures, "deg" an angle, "1" a plain number.
#pragma once

#include <stdexcept>
#include <string>
#include <utility>

namespace tabmelt::units {

// What is wrong with a text, in words; does not repeat the text itself.
class UnitError : public std::runtime_error {
  using std::runtime_error::runtime_error;
};

// Value in SI (kelvin for temperatures, radian for angles) of a number followed by a unit.
// Throws UnitError: no number, not finite, no unit, unknown unit, another dimension.
double in_si(const std::string& text, const std::string& reference);
// Value in SI of a bare number in a unit, e.g. a column of a table. Throws UnitError.
double in_si(double number, const std::string& unit, const std::string& reference);

// An SI value printed in a unit, with this many significant digits: "4.7 mF".
std::string in_unit(double si, const std::string& unit, int digits = 6);

// "a length", "a resistance", ...: what a unit measures; empty if it has no name here.
std::string dimension(const std::string& unit);

}  // namespace tabmelt::units
