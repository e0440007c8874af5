// What a metal, plastic or filling is like at a temperature. Plain values; SI units.
//
// Two phases have their own curves; between solidus and liquidus the conductivities blend
// with the liquid fraction f = (T - solidus)/(liquidus - solidus). A curve holds its end
// value outside its range, and the report says when a run left it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/material/curve.h"

namespace tabmelt {

// Where a number comes from, for the report and the result file.
struct PropertySource {
  std::string property;
  std::string source;
  double from = 0;  // [K] range of validity
  double to = 0;    // [K]
};

struct Melting {
  double solidus = 0;      // [K]
  double liquidus = 0;     // [K], at least solidus
  double latent_heat = 0;  // [J/kg], in excess of the sensible heat
};

// A latent heat in the solid, spread evenly over a range (iron: alpha to gamma).
struct SolidTransformation {
  double from = 0;         // [K]
  double to = 0;           // [K]
  double latent_heat = 0;  // [J/kg]
};

struct Boiling {
  double temperature = 0;  // [K]
  double latent_heat = 0;  // [J/kg]
};

struct Material {
  std::string name;         // the key, as in cases/materials/<name>.toml
  std::string description;  // one line for people

  double density = 0;                    // [kg/m^3] cold; mass per cell never changes
  Curve specific_heat;                   // [J/kg/K] solid
  Curve specific_heat_liquid;            // [J/kg/K]; empty: the solid's last value
  Curve thermal_conductivity;            // [W/m/K] solid, along z
  Curve thermal_conductivity_liquid;     // [W/m/K]; empty: the solid's last value
  double radial_conductivity_ratio = 1;  // k along r divided by k along z
  Curve resistivity;                     // [ohm m] solid; empty: an insulator
  Curve resistivity_liquid;              // [ohm m]; empty: the solid's last value

  std::optional<Melting> melting;
  std::vector<SolidTransformation> transformations;
  std::optional<Boiling> boiling;

  std::optional<double> hardness;               // [Pa] indentation hardness, cold
  Curve hardness_ratio;                         // [1] hot over cold, at the rate of a weld
  std::optional<double> elastic_modulus;        // [Pa] cold; none: rigid
  std::optional<double> film_resistance;        // [ohm m^2] of its surface on another of its kind
  std::optional<double> softening_temperature;  // [K]
  std::optional<double> tensile_strength;       // [Pa] cold

  std::vector<PropertySource> sources;

  bool conducts_current() const { return !resistivity.empty(); }
  double liquid_fraction(double T) const;  // [1] 0 if it does not melt
  double conductivity_z(double T) const;   // [W/m/K]
  double conductivity_r(double T) const;   // [W/m/K]
  double resistivity_at(double T) const;   // [ohm m]; throws std::logic_error for an insulator
  double hardness_at(double T) const;      // [Pa]; throws std::logic_error without hardness
  // [K] stated, or 0.45 of the solidus: recrystallisation of common metals lies near there (Holm,
  // Electric Contacts, 4th ed. (1967), Ni 0.46, Fe 0.43, Mo 0.41; from memory). Unset if neither.
  std::optional<double> softening() const;
  // [K] above which a temperature means nothing. With a boiling point: 1.2 times that. Without:
  // twice the liquidus, at least 3500 K and at most 6500 K; no metal boils later than tungsten at
  // 6200 K (Zhang, Evans & Yang, J. Chem. Eng. Data 56 (2011) 328).
  double hottest_meaningful() const;
  // The temperature up to which all curves with a stated range reach [K]; infinity without any.
  double covered_to() const;
};

}  // namespace tabmelt
