#include "solver/verdict/in_words.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstdio>

#include "solver/material/constants.h"

namespace tabmelt::in_words {

std::string number(double value, int significant) {
  if (!std::isfinite(value)) return "an unknown number of";
  int decimals = 0;
  if (value != 0) {
    const double magnitude = std::floor(std::log10(std::abs(value)));
    decimals = std::clamp(significant - 1 - static_cast<int>(magnitude), 0, 9);
  }
  std::array<char, 400> text{};
  std::snprintf(text.data(), text.size(), "%.*f", decimals, value);
  return text.data();
}

std::string length(double metres) { return number(metres * 1e3) + " mm"; }

std::string temperature(double kelvin) {
  return number(std::round(kelvin - constants::zero_celsius) + 0.0, 1) + " °C";
}

std::string temperature_rise(double kelvin) { return number(std::round(kelvin), 1) + " °C"; }

std::string duration(double seconds) {
  if (std::abs(seconds) < 1e-3) return number(seconds * 1e6) + " us";
  if (std::abs(seconds) < 1) return number(seconds * 1e3) + " ms";
  return number(seconds) + " s";
}

std::string energy(double joules) {
  if (std::abs(joules) < 0.1) return number(joules * 1e3) + " mJ";
  return number(joules) + " J";
}

std::string percent(double share) {
  if (share != 0 && std::abs(share) < 0.0095) return number(share * 100, 1) + " %";
  return number(std::round(share * 100), 1) + " %";
}

std::string voltage(double volts) { return number(volts) + " V"; }

std::string force(double newtons) { return number(newtons) + " N"; }

std::string current(double amperes) {
  if (std::abs(amperes) >= 1000) return number(amperes * 1e-3) + " kA";
  return number(amperes, 3) + " A";
}

std::string quantity(double value, const std::string& unit) {
  if (unit == "K") return temperature(value);
  if (unit == "m") return length(value);
  if (unit == "J") return energy(value);
  if (unit == "V") return voltage(value);
  if (unit == "1") return percent(value);
  if (unit == "kg") return number(value * 1e9) + " ug";
  return number(value, 3) + " " + unit;
}

std::string capitalised(std::string text) {
  if (!text.empty()) {
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  }
  return text;
}

}  // namespace tabmelt::in_words
