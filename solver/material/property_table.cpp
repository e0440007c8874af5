#include "solver/material/property_table.h"

#include <algorithm>

namespace tabmelt {
namespace {
constexpr double first = 150.0;  // [K]
constexpr std::size_t points = 7000;
}  // namespace

PropertyTable::PropertyTable(const Material& m) : radial_ratio_(m.radial_conductivity_ratio) {
  conductivity_.resize(points);
  if (m.conducts_current()) resistivity_.resize(points);
  if (m.hardness) hardness_.resize(points);
  for (std::size_t n = 0; n < points; ++n) {
    const double T = first + static_cast<double>(n);
    conductivity_[n] = m.conductivity_z(T);
    if (!resistivity_.empty()) resistivity_[n] = m.resistivity_at(T);
    if (!hardness_.empty()) hardness_[n] = m.hardness_at(T);
  }
}

double PropertyTable::look_up(const std::vector<double>& table, double T) {
  const double x = std::clamp(T - first, 0.0, static_cast<double>(points) - 1.001);
  const auto n = static_cast<std::size_t>(x);
  const double s = x - static_cast<double>(n);
  return table[n] + s * (table[n + 1] - table[n]);
}

}  // namespace tabmelt
