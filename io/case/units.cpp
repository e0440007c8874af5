#include "io/case/units.h"

#include <fmt/format.h>
#include <udunits2.h>

#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <memory>
#include <mutex>
#include <string_view>

namespace tabmelt::units {
namespace {

// Names for messages, with the SI unit each stands for; the arithmetic is UDUNITS'.
struct Dimension {
  const char* name;
  const char* si;
};
constexpr std::array dimensions{
    Dimension{"a plain number", "1"},
    Dimension{"a length", "m"},
    Dimension{"an area", "m2"},
    Dimension{"a volume", "m3"},
    Dimension{"a mass", "kg"},
    Dimension{"a time", "s"},
    Dimension{"a force", "N"},
    Dimension{"a temperature", "K"},
    Dimension{"a current", "A"},
    Dimension{"a voltage", "V"},
    Dimension{"a resistance", "ohm"},
    Dimension{"a conductance", "S"},
    Dimension{"a capacitance", "F"},
    Dimension{"an inductance", "H"},
    Dimension{"a charge", "C"},
    Dimension{"a power", "W"},
    Dimension{"an energy", "J"},
    Dimension{"a speed", "m/s"},
    Dimension{"a stiffness", "N/m"},
    Dimension{"a pressure", "Pa"},
    Dimension{"a density", "kg/m3"},
    Dimension{"a specific heat", "J/kg/K"},
    Dimension{"a heat per mass", "J/kg"},
    Dimension{"a thermal conductivity", "W/m/K"},
    Dimension{"a thermal conductance per area", "W/m2/K"},
    Dimension{"a resistivity", "ohm m"},
    Dimension{"a resistance times area", "ohm m2"},
    Dimension{"a current density", "A/m2"},
    Dimension{"a conductance per area", "S/m2"},
    Dimension{"a temperature coefficient", "1/K"},
    Dimension{"a thermal resistance", "K/W"},
    Dimension{"a frequency", "Hz"},
};

struct FreeUnit {
  void operator()(ut_unit* unit) const { ut_free(unit); }
};
struct FreeConverter {
  void operator()(cv_converter* converter) const { cv_free(converter); }
};
using Unit = std::unique_ptr<ut_unit, FreeUnit>;
using Converter = std::unique_ptr<cv_converter, FreeConverter>;

// UDUNITS keeps its state in globals: one caller at a time, one unit system per process.
std::mutex& library_lock() {
  static std::mutex lock;
  return lock;
}

ut_system* unit_system() {
  static ut_system* const system = [] {
    ut_set_error_message_handler(ut_ignore);
    ut_system* made = ut_read_xml(nullptr);
    if (!made) throw std::runtime_error("the UDUNITS-2 unit database cannot be read");
    const Unit degree{ut_parse(made, "arc_degree", UT_UTF8)};
    ut_map_name_to_unit("deg", UT_ASCII, degree.get());
    return made;
  }();
  return system;
}

Unit parsed(const std::string& text) {
  ut_system* const system = unit_system();
  return Unit{ut_parse(system, text.c_str(), UT_UTF8)};
}

bool has_angle(const ut_unit* unit) {
  std::array<char, 200> name{};
  const int n = ut_format(unit, name.data(), name.size() - 1, UT_ASCII | UT_NAMES | UT_DEFINITION);
  return n > 0 && std::string_view(name.data()).find("radian") != std::string_view::npos;
}

// Not ut_are_convertible(), which also turns a unit into its reciprocal (a frequency into a time).
bool same_dimension(const ut_unit* a, const ut_unit* b) {
  const Unit quotient{ut_divide(a, b)};
  return quotient && ut_is_dimensionless(quotient.get()) != 0 && has_angle(a) == has_angle(b);
}

std::string dimension_of(const ut_unit* unit) {
  if (has_angle(unit)) return "an angle";
  for (const Dimension& d : dimensions)
    if (same_dimension(unit, parsed(d.si).get())) return d.name;
  return "";
}

// A reference unit with the SI unit it is converted to, parsed once.
struct Reference {
  Unit unit;
  Unit si;
};

const Reference& reference_unit(const std::string& name) {
  static std::map<std::string, Reference> known;
  const auto found = known.find(name);
  if (found != known.end()) return found->second;
  Unit unit = parsed(name);
  if (!unit) throw std::logic_error("unknown reference unit " + name);
  std::string si = has_angle(unit.get()) ? "radian" : "";
  for (const Dimension& d : dimensions)
    if (si.empty() && same_dimension(unit.get(), parsed(d.si).get())) si = d.si;
  if (si.empty()) throw std::logic_error("no SI unit is listed for " + name);
  return known.emplace(name, Reference{std::move(unit), parsed(si)}).first->second;
}

std::string wanted(const ut_unit* unit, const std::string& reference) {
  const std::string name = reference == "K" ? "a temperature difference" : dimension_of(unit);
  return reference == "1" ? name : fmt::format("{} (as in \"1 {}\")", name, reference);
}

// Text after the number, checked for what UDUNITS would read as something else.
std::string unit_text(std::string_view rest) {
  while (!rest.empty() && (rest.front() == ' ' || rest.front() == '\t')) rest.remove_prefix(1);
  while (!rest.empty() && (rest.back() == ' ' || rest.back() == '\t')) rest.remove_suffix(1);
  if (rest.starts_with(",")) throw UnitError("has a comma in the number; write a point");
  if (rest.size() > 60) throw UnitError("has a unit that is too long");
  for (const char c : rest)
    if (static_cast<unsigned char>(c) < 0x20 || c == '@')
      throw UnitError("has a character that belongs to no unit");
  if (rest.starts_with("/")) return "1" + std::string(rest);
  if (!rest.starts_with("1/") && rest.find_first_of("0123456789.+-*^") == 0)
    throw UnitError("is not one number followed by its unit");
  return std::string(rest);
}

Converter checked_converter(const std::string& unit, const std::string& reference) {
  const auto& [want, si] = reference_unit(reference);
  if (unit.empty() && reference != "1")
    throw UnitError(fmt::format("has no unit where {} belongs", wanted(want.get(), reference)));
  const Unit found = parsed(unit);
  const std::string hint = unit.find('/') == std::string::npos
                               ? ""
                               : "; behind a slash stands one factor: write W/m2/K or W/(m2 K)";
  if (!found)
    throw UnitError(fmt::format("has an unknown unit \"{}\" where {} belongs{}", unit,
                                wanted(want.get(), reference), hint));
  if (!same_dimension(found.get(), want.get())) {
    const std::string name = dimension_of(found.get());
    throw UnitError(fmt::format("is {} where {} belongs{}",
                                name.empty() ? "a quantity of another kind" : name,
                                wanted(want.get(), reference), hint));
  }
  Converter to_si{ut_get_converter(found.get(), si.get())};
  if (!to_si) throw UnitError(fmt::format("has a unit \"{}\" that cannot be converted", unit));
  const double zero = cv_convert_double(to_si.get(), 0.0);
  if (reference != "degC" && zero != 0)
    throw UnitError(
        fmt::format("is an absolute temperature or another shifted scale where {} belongs",
                    wanted(want.get(), reference)));
  return to_si;
}

// A study reads its case thousands of times with the same units: each is understood once.
double converted(double number, const std::string& unit, const std::string& reference) {
  const std::lock_guard hold(library_lock());
  static std::map<std::pair<std::string, std::string>, Converter> understood;
  auto known = understood.find({unit, reference});
  if (known == understood.end())
    known =
        understood.emplace(std::pair(unit, reference), checked_converter(unit, reference)).first;
  const double value = cv_convert_double(known->second.get(), number);
  if (!std::isfinite(value)) throw UnitError("is not a finite number");
  return value;
}

}  // namespace

double in_si(const std::string& text, const std::string& reference) {
  std::string_view rest = text;
  while (!rest.empty() && (rest.front() == ' ' || rest.front() == '\t')) rest.remove_prefix(1);
  if (rest.starts_with('+')) rest.remove_prefix(1);
  double number = 0;
  const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), number);
  if (error == std::errc::result_out_of_range)
    throw UnitError("holds a number too large or too small to use");
  if (error != std::errc()) throw UnitError("does not start with a number");
  if (!std::isfinite(number)) throw UnitError("is not a finite number");
  return converted(number, unit_text(rest.substr(static_cast<std::size_t>(end - rest.data()))),
                   reference);
}

double in_si(double number, const std::string& unit, const std::string& reference) {
  if (!std::isfinite(number)) throw UnitError("is not a finite number");
  return converted(number, unit == "1" ? "" : unit_text(unit), reference);
}

std::string in_unit(double si, const std::string& unit, int digits) {
  const std::lock_guard hold(library_lock());
  const auto& [want, base] = reference_unit(unit);
  const Converter from_si{ut_get_converter(base.get(), want.get())};
  const double value = cv_convert_double(from_si.get(), si);
  return unit == "1" ? fmt::format("{:.{}g}", value, digits)
                     : fmt::format("{:.{}g} {}", value, digits, unit);
}

std::string dimension(const std::string& unit) {
  const std::lock_guard hold(library_lock());
  const Unit found = parsed(unit);
  return found ? dimension_of(found.get()) : "";
}

}  // namespace tabmelt::units
