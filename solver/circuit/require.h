// Refusals of values that no circuit can have.
#pragma once

#include <cmath>
#include <stdexcept>
#include <string>

namespace tabmelt::circuit {

inline void require(bool condition, const std::string& message) {
  if (!condition) throw std::invalid_argument(message);
}

inline void require_not_negative(double value, const std::string& what) {
  require(value >= 0 && std::isfinite(value), what + " must not be negative");
}

}  // namespace tabmelt::circuit
