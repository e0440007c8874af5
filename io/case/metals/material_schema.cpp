#include "io/case/metals/material_schema.h"

namespace tabmelt {
namespace {

template <typename Number>  // double, or one that may be unset
Property constant(const std::string& name, const Range& range, Number Material::*which,
                  const std::string& meaning, const std::string& if_missing) {
  return {.name = name,
          .shape = Shape::constant,
          .range = range,
          .required = if_missing.empty(),
          .meaning = meaning,
          .if_missing = if_missing,
          .set = [which](Material& m, double v) { m.*which = v; }};
}

Property curve(const std::string& name, const Range& range, Curve Material::*which,
               const std::string& meaning, const std::string& if_missing) {
  return {.name = name,
          .shape = Shape::curve,
          .range = range,
          .required = if_missing.empty(),
          .meaning = meaning,
          .if_missing = if_missing,
          .set_curve = [which](Material& m, Curve c) { m.*which = std::move(c); }};
}

Property spreading(Property property, const DefaultSpread& spread) {
  property.spread = spread;
  return property;
}

}  // namespace

const std::vector<Property>& material_properties() {
  // Ranges are wide: they catch slips of the unit, not unusual materials.
  static const std::vector<Property> list{
      constant("density", {"kg/m3", 1e-3, 1e6}, &Material::density, "Density of the cold solid.",
               ""),
      curve("specific_heat", {"J/kg/K", 1e-3, 1e8}, &Material::specific_heat,
            "Specific heat of the solid, without latent heats.", ""),
      curve("specific_heat_liquid", {"J/kg/K", 1e-3, 1e8}, &Material::specific_heat_liquid,
            "Specific heat of the liquid.", "the solid's law goes on"),
      curve("thermal_conductivity", {"W/m/K", 1e-6, 1e7}, &Material::thermal_conductivity,
            "Thermal conductivity of the solid, along the electrode's axis.", ""),
      curve("thermal_conductivity_liquid", {"W/m/K", 1e-6, 1e7},
            &Material::thermal_conductivity_liquid, "Thermal conductivity of the liquid.",
            "the solid's law goes on"),
      constant("radial_conductivity_ratio", {"1", 1e-6, 1e6}, &Material::radial_conductivity_ratio,
               "Thermal conductivity away from the axis divided by that along it.", "1"),
      curve("resistivity", {"ohm m", 1e-12, 1e3}, &Material::resistivity,
            "Electrical resistivity of the solid.", "an insulator"),
      curve("resistivity_liquid", {"ohm m", 1e-12, 1e3}, &Material::resistivity_liquid,
            "Electrical resistivity of the liquid.", "the solid's law goes on"),
      {.name = "melting",
       .shape = Shape::group,
       .members = {{"solidus", {"K", 1, 2e4}},
                   {"liquidus", {"K", 1, 2e4}},
                   {"latent_heat", {"kJ/kg", 0, 1e9}}},
       .meaning = "Melting range and latent heat in excess of the sensible heat.",
       .if_missing = "does not melt",
       .set_group =
           [](Material& m, const std::vector<double>& v) {
             m.melting = Melting{v[0], v[1], v[2]};
           }},
      {.name = "transformation",
       .shape = Shape::list_of_groups,
       .members = {{"from", {"K", 1, 2e4}},
                   {"to", {"K", 1, 2e4}},
                   {"latent_heat", {"kJ/kg", 0, 1e9}}},
       .meaning = "[[transformation]]: latent heat of a change in the solid, spread evenly over a "
                  "range.",
       .if_missing = "none",
       .set_group =
           [](Material& m, const std::vector<double>& v) {
             m.transformations.push_back({v[0], v[1], v[2]});
           }},
      {.name = "boiling",
       .shape = Shape::group,
       .members = {{"temperature", {"K", 1, 5e4}}, {"latent_heat", {"kJ/kg", 0, 1e10}}},
       .meaning = "Boiling point at 1 bar and latent heat.",
       .if_missing = "does not boil",
       .set_group =
           [](Material& m, const std::vector<double>& v) {
             m.boiling = Boiling{v[0], v[1]};
           }},
      spreading(
          constant("hardness", {"GPa", 1e5, 1e12}, &Material::hardness,
                   "Cold indentation hardness; 1 GPa is about 100 HV. The hot one follows it.",
                   "none: cannot take part in a contact of the constriction law"),
          {"15 %",
           "temper of a sheet, such as half-hard nickel 130 to 170 HV; engineering "
           "judgement"}),
      curve("hardness_ratio", {"1", 1e-6, 10}, &Material::hardness_ratio,
            "Hot hardness divided by cold, at the strain rate of a weld, some 100 1/s.",
            "1 at any temperature"),
      constant("elastic_modulus", {"GPa", 1e6, 1e13}, &Material::elastic_modulus,
               "Modulus of elasticity, cold.", "rigid: no elastic flattening under a tip"),
      constant("film_resistance", {"ohm m2", 0, 1e-3}, &Material::film_resistance,
               "Resistance times true contact area of the film between two such surfaces, cold.",
               "3e-11 ohm m2, as nickel"),
      constant("softening_temperature", {"K", 1, 2e4}, &Material::softening_temperature,
               "Where a contact softens and solid-state bonding begins.", "not judged"),
      constant("tensile_strength", {"MPa", 1e3, 1e11}, &Material::tensile_strength,
               "Cold tensile strength.", "not judged"),
  };
  return list;
}

}  // namespace tabmelt
