#include "io/study/knob.h"

#include <fmt/format.h>

#include <cmath>

#include "io/case/units.h"

namespace tabmelt {
namespace {

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(" \t\"'");
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of(" \t\"'") - first + 1);
}

// SI to the natural unit: units are linear, with an offset for temperatures.
struct Line {
  double offset = 0, factor = 1;  // SI = offset + factor * number
};

Line line_of(const std::string& unit) {
  const double zero = units::in_si(0.0, unit, unit);
  return {zero, units::in_si(1.0, unit, unit) - zero};
}

double end_of(const KnobSpan& span, const std::string& text, const std::string& other) {
  const Knob& knob = span.knob;
  std::string whole = trimmed(text);
  // "15..60 N": the unit stands once.
  const auto letter = other.find_first_not_of("0123456789.+-eE \t");
  const bool bare = whole.find_first_not_of("0123456789.+-eE \t") == std::string::npos;
  if (bare && letter != std::string::npos) whole += " " + other.substr(letter);
  double value = 0;
  try {
    value = units::in_si(whole, knob.unit());
  } catch (const units::UnitError& error) {
    refuse_input(fmt::format("{}: \"{}\" {}; write {}=from..to, such as {}=1..2 {}", knob.key,
                             whole, error.what(), knob.key, knob.key, knob.unit()));
  }
  const double low = knob.address.lowest(), high = knob.address.highest(), slack = 1e-12;
  if (value < low - slack * std::abs(low) || value > high + slack * std::abs(high))
    refuse_input(fmt::format("{}: {} is out of range; allowed is {} to {}", knob.key, whole,
                             knob.words(low), knob.words(high)));
  return value;
}

}  // namespace

bool Knob::is_switch() const { return address.is_switch(); }

double Knob::in_unit(double si) const {
  const Line line = line_of(unit());
  return (si - line.offset) / line.factor;
}

double Knob::difference_in_unit(double si) const { return si / line_of(unit()).factor; }

std::string Knob::difference_words(double si, int digits) const {
  const std::string number = fmt::format("{:.{}g}", difference_in_unit(si), digits);
  if (unit() == "1") return number;
  return number + " " + (unit() == "degC" ? "K" : unit());
}

Override Knob::at(double si) const {
  if (is_switch()) return {key, si > 0.5 ? "true" : "false"};
  const double number = in_unit(si);
  if (whole()) return {key, fmt::format("{:.0f}", number)};
  if (address.kind() == Kind::number) return {key, fmt::format("{:.12g}", number)};
  return {key, fmt::format("{:.12g} {}", number, unit())};
}

std::string Knob::words(double si) const {
  if (is_switch()) return si > 0.5 ? "yes" : "no";
  if (whole()) return fmt::format("{:.0f}", si);
  const std::string number = fmt::format("{:.4g}", in_unit(si));
  return unit() == "1" ? number : number + " " + unit();
}

Knob knob_of(const Case& read, const std::string& key) {
  const auto address = address_of(key);
  if (!address) refuse_input(no_such_key(key));
  if (!address->is_number()) refuse_input(fmt::format("{} is no number and cannot be varied", key));
  const auto value = CaseValues(read.full_text).of(*address);
  if (!value)
    refuse_input(
        fmt::format("{} has no value in this case; give it one with --set {}=...", key, key));
  return {key, *address, *value};
}

Knob knob_of(const UncertainKey& uncertain) {
  return {uncertain.key, uncertain.address, uncertain.value};
}

KnobSpan knob_span(const Case& read, const std::string& text) {
  const auto sign = text.find('='), dots = text.find("..", sign == std::string::npos ? 0 : sign);
  if (sign == std::string::npos || dots == std::string::npos)
    refuse_input(
        fmt::format("\"{}\" is not of the form KEY=from..to, such as pressing.force=\"15 N..60 "
                    "N\"",
                    text));
  KnobSpan span{knob_of(read, trimmed(text.substr(0, sign)))};
  const std::string from = trimmed(text.substr(sign + 1, dots - sign - 1));
  const std::string to = trimmed(text.substr(dots + 2));
  span.from = end_of(span, from, to);
  span.to = end_of(span, to, from);
  if (!(span.from < span.to))
    refuse_input(fmt::format("{}: nothing lies between {} and {}", span.knob.key, from, to));
  return span;
}

}  // namespace tabmelt
