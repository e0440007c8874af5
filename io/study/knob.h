// A number of a case that a study turns: its key, its unit, its range, and the text that sets it.
#pragma once

#include <string>
#include <vector>

#include "io/case/overrides.h"
#include "io/case/spreads.h"

namespace tabmelt {

struct Knob {
  std::string key;  // as typed
  Address address;
  double value = 0;  // of the case [SI]

  std::string unit() const { return address.unit(); }
  bool whole() const { return address.is_count(); }
  bool is_switch() const;  // 0 or 1: true or false
  // The text that sets it, in twelve figures.
  Override at(double si) const;
  // "28 N", "12", "yes"
  std::string words(double si) const;
  // The number in the knob's unit, for tables.
  double in_unit(double si) const;
  // Of two values: "0.11 mohm", "3.2 K"; their difference is the same in K and degC.
  double difference_in_unit(double si) const;
  std::string difference_words(double si, int digits) const;
};

// Throws InputError: no such key, no number, or no value in this case.
Knob knob_of(const Case&, const std::string& key);
Knob knob_of(const UncertainKey&);

// "KEY=from..to", both with a unit, or one of them: "pressing.force=15..60 N".
struct KnobSpan {
  Knob knob;
  double from = 0, to = 0;  // [SI]
};
// Throws InputError with the key and its range if one end is outside it, or nothing lies between.
KnobSpan knob_span(const Case&, const std::string& text);

}  // namespace tabmelt
