#include "solver/material/material.h"

#include <algorithm>
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

namespace {
template <typename Pick>
double over_curves(const Material& m, Pick pick, bool liquid) {
  std::vector<const Curve*> curves{&m.specific_heat, &m.thermal_conductivity, &m.resistivity};
  if (liquid && m.melting)
    curves = {&m.specific_heat_liquid, &m.thermal_conductivity_liquid, &m.resistivity_liquid};
  double result = 0;
  bool first = true;
  for (const Curve* c : curves) {
    // A single point stands for a constant law without a stated range.
    if (c->value.size() < 2) continue;
    const double t = pick(*c);
    result = first ? t : (liquid ? std::min(result, t) : std::max(result, t));
    first = false;
  }
  return first ? (liquid ? 1e9 : 0) : result;
}
}  // namespace

double Material::covered_from() const {
  return over_curves(*this, [](const Curve& c) { return c.lowest_temperature(); }, false);
}

double Material::covered_to() const {
  return over_curves(*this, [](const Curve& c) { return c.highest_temperature(); }, true);
}

}  // namespace tabmelt
