#include "io/command/temperature_range.h"

#include <fmt/format.h>

#include <stdexcept>

#include "io/case/units.h"

namespace tabmelt::command {
namespace {

constexpr double zero_celsius = 273.15;                     // [K]
constexpr double coldest = -100, hottest = 1e4, least = 1;  // [degrees Celsius]

[[noreturn]] void refuse(const std::string& text, const std::string& reason) {
  throw std::invalid_argument(
      fmt::format("--range: \"{}\" {}; write it like 20..400 or \"20..400 degC\"", text, reason));
}

double degrees_in(const std::string& text, const std::string& number, const std::string& unit) {
  try {
    return units::in_si(number + " " + unit, "degC") - zero_celsius;
  } catch (const units::UnitError& error) {
    refuse(text, error.what());
  }
}

}  // namespace

pictures::TemperatureRange temperature_range_in(const std::string& text) {
  const std::size_t dots = text.find("..");
  if (dots == std::string::npos) refuse(text, "is no range");
  const std::string low = text.substr(0, dots);
  std::string high = text.substr(dots + 2), unit = "degC";
  const std::size_t letters = high.find_first_not_of("0123456789.+-eE ");
  if (letters != std::string::npos) {
    unit = high.substr(letters);
    high = high.substr(0, letters);
  }
  const pictures::TemperatureRange range{degrees_in(text, low, unit), degrees_in(text, high, unit)};
  if (!(range.low >= coldest) || !(range.high <= hottest)) {
    refuse(text, fmt::format("is not within {} to {} degC", coldest, hottest));
  }
  if (!(range.high - range.low >= least)) {
    refuse(text, fmt::format("does not rise by {} degC at least", least));
  }
  return range;
}

}  // namespace tabmelt::command
