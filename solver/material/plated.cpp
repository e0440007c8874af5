#include "solver/material/plated.h"

#include <algorithm>
#include <functional>
#include <stdexcept>

namespace tabmelt {
namespace {

constexpr double cold = 293.15;  // [K]

// The core's curve with `value(core's value, T)` at its own points and at those of the skin's curve
// between them.
Curve mixed(const Curve& core, const Curve& skin,
            const std::function<double(double, double)>& value) {
  std::vector<double> points = core.temperature;
  for (const double T : skin.temperature)
    if (T > points.front() && T < core.temperature.back()) points.push_back(T);
  std::sort(points.begin(), points.end());
  points.erase(std::unique(points.begin(), points.end()), points.end());
  Curve out;
  for (const double T : points) {
    out.temperature.push_back(T);
    out.value.push_back(value(core.at(T), T));
  }
  return out;
}

}  // namespace

Material plated(const Material& core, const Material& skin, double f) {
  if (!(f > 0) || !(f < 1))
    throw std::invalid_argument("the share of the plating must lie between 0 and 1");
  if (core.conducts_current() != skin.conducts_current())
    throw std::invalid_argument("plating and core must both conduct current, or neither");
  Material out = core;
  out.density = (1 - f) * core.density + f * skin.density;
  const double core_mass = (1 - f) * core.density / out.density;  // [1]
  const auto heat = [&](double core_value, double T) {
    return core_mass * core_value + (1 - core_mass) * skin.specific_heat.at(T);
  };
  const auto across = [&](double core_value, double T) {
    return 1 / ((1 - f) / core_value + f / skin.conductivity_z(T));
  };
  const auto along = [&](double core_value, double T) {
    return 1 / ((1 - f) / core_value + f / skin.resistivity_at(T));
  };
  out.specific_heat = mixed(core.specific_heat, skin.specific_heat, heat);
  out.thermal_conductivity = mixed(core.thermal_conductivity, skin.thermal_conductivity, across);
  // Where both are molten, or nearly, points of the core are close enough.
  const Curve none;
  if (!core.specific_heat_liquid.empty())
    out.specific_heat_liquid = mixed(core.specific_heat_liquid, none, heat);
  if (!core.thermal_conductivity_liquid.empty())
    out.thermal_conductivity_liquid = mixed(core.thermal_conductivity_liquid, none, across);
  if (core.conducts_current()) {
    out.resistivity = mixed(core.resistivity, skin.resistivity, along);
    if (!core.resistivity_liquid.empty())
      out.resistivity_liquid = mixed(core.resistivity_liquid, none, along);
  }
  out.radial_conductivity_ratio =
      ((1 - f) * core.conductivity_r(cold) + f * skin.conductivity_r(cold)) /
      out.conductivity_z(cold);
  if (out.melting) out.melting->latent_heat *= core_mass;
  if (out.boiling) out.boiling->latent_heat *= core_mass;
  for (SolidTransformation& change : out.transformations) change.latent_heat *= core_mass;
  if (skin.hardness) {
    out.hardness = skin.hardness;
    out.hardness_ratio = skin.hardness_ratio;
  }
  if (const auto softening = skin.softening()) out.softening_temperature = softening;
  for (const PropertySource& source : skin.sources)
    out.sources.push_back({"plating, " + source.property, source.source, source.from, source.to});
  return out;
}

}  // namespace tabmelt
