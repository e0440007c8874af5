// Conductivity and resistivity of one material sampled every kelvin, for the inner loops: a look-up
// costs one multiplication instead of a search. Straight lines of the curves are kept exactly
// except within one kelvin of a kink.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

#include "solver/material/material.h"

namespace tabmelt {

class PropertyTable {
 public:
  explicit PropertyTable(const Material&);
  double conductivity_z(double T) const { return look_up(conductivity_, T); }
  double radial_ratio() const { return radial_ratio_; }
  bool conducts_current() const { return !resistivity_.empty(); }
  double resistivity(double T) const { return look_up(resistivity_, T); }
  double hardness(double T) const { return look_up(hardness_, T); }  // [Pa] needs one

 private:
  static constexpr double first = 150.0;  // [K]
  static constexpr std::size_t points = 7000;

  static double look_up(const std::vector<double>& table, double T) {
    const double x = std::clamp(T - first, 0.0, static_cast<double>(points) - 1.001);
    // By way of an int: the conversion is one instruction.
    const int n = static_cast<int>(x);
    const double s = x - n, *at = table.data() + n;
    return at[0] + s * (at[1] - at[0]);
  }

  std::vector<double> conductivity_, resistivity_, hardness_;
  double radial_ratio_ = 1;
};

}  // namespace tabmelt
