// A property over temperature: straight lines between points, the end value outside them.
#pragma once

#include <vector>

namespace tabmelt {

struct Curve {
  std::vector<double> temperature;  // [K], strictly increasing
  std::vector<double> value;        // same length

  static Curve constant(double value) { return {{293.15}, {value}}; }
  bool empty() const { return value.empty(); }
  double at(double T) const;
  double lowest_temperature() const { return temperature.front(); }
  double highest_temperature() const { return temperature.back(); }
};

}  // namespace tabmelt
