#include "solver/material/material.h"

#include <algorithm>
#include <limits>
#include <stdexcept>

namespace tabmelt {
namespace {

// Solid and liquid curves joined by the liquid fraction; without a liquid curve the solid's law
// goes on (a linear law stays linear, a table holds its end value).
double blended(const Curve& solid, const Curve& liquid, double fraction, double T) {
  if (fraction <= 0 || liquid.empty()) return solid.at(T);
  if (fraction >= 1) return liquid.at(T);
  return (1 - fraction) * solid.at(T) + fraction * liquid.at(T);
}

}  // namespace

double Material::liquid_fraction(double T) const {
  if (!melting || T <= melting->solidus) return 0;
  if (T >= melting->liquidus) return 1;
  return (T - melting->solidus) / (melting->liquidus - melting->solidus);
}

double Material::conductivity_z(double T) const {
  return blended(thermal_conductivity, thermal_conductivity_liquid, liquid_fraction(T), T);
}

double Material::conductivity_r(double T) const {
  return radial_conductivity_ratio * conductivity_z(T);
}

double Material::resistivity_at(double T) const {
  if (!conducts_current()) throw std::logic_error(name + " carries no current");
  return blended(resistivity, resistivity_liquid, liquid_fraction(T), T);
}

double Material::hardness_at(double T) const {
  if (!hardness) throw std::logic_error(name + " has no hardness");
  return *hardness * (hardness_ratio.empty() ? 1.0 : hardness_ratio.at(T));
}

std::optional<double> Material::softening() const {
  if (softening_temperature) return softening_temperature;
  if (melting) return 0.45 * melting->solidus;
  return std::nullopt;
}

double Material::hottest_meaningful() const {
  constexpr double least = 3500, most = 6500;
  if (boiling) return 1.2 * boiling->temperature;
  return melting ? std::clamp(2 * melting->liquidus, least, most) : most;
}

double Material::covered_to() const {
  double to = std::numeric_limits<double>::infinity();
  const auto limit = [&](const Curve& solid, const Curve& liquid) {
    const Curve& last = melting && !liquid.empty() ? liquid : solid;
    if (last.value.size() > 1) to = std::min(to, last.highest_temperature());
  };
  limit(specific_heat, specific_heat_liquid);
  limit(thermal_conductivity, thermal_conductivity_liquid);
  limit(resistivity, resistivity_liquid);
  return to;
}

}  // namespace tabmelt
