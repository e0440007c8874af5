#include "solver/words/in_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "solver/material/constants.h"

namespace tabmelt::in_words {
namespace {

// Four digits from 1000 up so that nothing turns into 1.2e+03, three below; no trailing zeros.
std::string rounded(double value) {
  if (std::abs(value) >= 999.5) return fmt::format("{:.0f}", value);
  if (value != 0 && std::abs(value) < 1e-3) return value > 0 ? "< 0.001" : "> -0.001";
  return fmt::format("{:.3g}", value);
}

std::string with_unit(double value, const char* unit) {
  if (!std::isfinite(value)) return "n/a";
  return fmt::format("{} {}", rounded(value), unit);
}

}  // namespace

std::string number(double value, int significant) {
  if (!std::isfinite(value)) return "an unknown number of";
  const int whole = value == 0 ? 1 : static_cast<int>(std::floor(std::log10(std::abs(value)))) + 1;
  return fmt::format("{:.{}f}", value, std::clamp(significant - whole, 0, 9));
}

double about(double value) {
  if (value == 0 || !std::isfinite(value)) return value;
  const double step = std::pow(10, std::floor(std::log10(std::abs(value))) - 1);
  return step * std::round(value / step);
}

std::string temperature(double kelvin) {
  if (!std::isfinite(kelvin) || kelvin <= 0) return "n/a";
  const double degrees = kelvin - constants::zero_celsius;
  // Near room temperature a tenth of a degree tells; at the weld it would pretend.
  return std::abs(degrees) < 100 ? fmt::format("{:.1f} °C", degrees)
                                 : fmt::format("{:.0f} °C", degrees);
}

std::string temperature_rise(double kelvin) { return with_unit(kelvin, "K"); }

std::string length(double metres) { return with_unit(metres * 1e3, "mm"); }

std::string place(double r, double z) {
  const auto rounded_off = [](double metres) { return std::round(metres * 1e5) / 1e5 + 0.0; };
  return "r " + length(rounded_off(r)) + ", z " + length(rounded_off(z));
}

std::string duration(double seconds) {
  const double size = std::abs(seconds);
  if (size == 0) return "0 ms";
  if (size >= 0.9995) return with_unit(seconds, "s");
  if (size < 0.9995e-4) return with_unit(seconds * 1e6, "µs");
  return with_unit(seconds * 1e3, "ms");
}

std::string resistance(double ohms) { return with_unit(ohms * 1e3, "mΩ"); }

std::string energy(double joules) {
  const double size = std::abs(joules);
  if (size >= 0.0995 || size == 0) return with_unit(joules, "J");
  if (size >= 0.9995e-4) return with_unit(joules * 1e3, "mJ");
  return with_unit(joules * 1e6, "µJ");
}

std::string mass(double kilograms) {
  const double size = std::abs(kilograms);
  if (size == 0) return "0 mg";
  if (size >= 0.9995) return with_unit(kilograms, "kg");
  if (size >= 0.9995e-3) return with_unit(kilograms * 1e3, "g");
  if (size >= 0.9995e-6) return with_unit(kilograms * 1e6, "mg");
  return with_unit(kilograms * 1e9, "µg");
}

std::string current(double amperes) { return with_unit(amperes, "A"); }

std::string voltage(double volts) { return with_unit(volts, "V"); }

std::string force(double newtons) { return with_unit(newtons, "N"); }

std::string percent(double fraction) { return with_unit(fraction * 100, "%"); }

std::string margin(double fraction) {
  if (!std::isfinite(fraction) || std::abs(fraction) > 9.99)
    return fraction > 0 ? "> +999 %" : "< -999 %";
  return fmt::format("{:+.0f} %", 100 * fraction);
}

std::string damage(double fraction) {
  if (fraction >= 0 && fraction < 1e-5) return "below 0.001 %";
  return with_unit(fraction * 100, "%");
}

std::string capitalised(std::string text) {
  if (!text.empty())
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text;
}

std::string quantity(double value, const std::string& si_unit) {
  if (si_unit == "K") return temperature(value);
  if (si_unit == "m") return length(value);
  if (si_unit == "m2") return with_unit(value * 1e6, "mm²");
  if (si_unit == "s") return duration(value);
  if (si_unit == "ohm") return resistance(value);
  if (si_unit == "J") return energy(value);
  if (si_unit == "kg") return mass(value);
  if (si_unit == "A") return current(value);
  if (si_unit == "V") return voltage(value);
  if (si_unit == "N") return force(value);
  if (si_unit == "1") return value > 0 && value < 1e-5 ? "< 0.001 %" : percent(value);
  return with_unit(value, si_unit.c_str());
}

}  // namespace tabmelt::in_words
