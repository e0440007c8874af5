// Every property of a material, once: what it means, in which unit, what is allowed and which
// value of the material it sets. A material stands in a file <name>.toml of its own or in a case
// under [materials.<name>]; both have the same form:
//
//   density = "8890 kg/m3"                                 a constant
//   [resistivity]                                          a linear law: straight on for all T
//   value = "7e-8 ohm m"
//   temperature_coefficient = "0.006 /K"
//   reference_temperature = "293.15 K"
//   source = "..."                                         always optional
//   [specific_heat]                                        a table: T in kelvin, value in `unit`
//   unit = "J/kg/K"
//   points = [[293.15, 440.2], [1728, 656.9]]
//   [melting]
//   solidus = "1708 K"
//   ...
//   plating = { material = "nickel-200", thickness = "5 um", sheet = "0.10 mm" }   a skin on a
//                                                          sheet of it: io/case/metals/plating.h
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "io/case/schema.h"
#include "solver/material/material.h"

namespace tabmelt {

enum class Shape { constant, curve, group, list_of_groups };

struct GroupMember {
  std::string name;
  Range range;
};

struct Property {
  std::string name;
  Shape shape = Shape::constant;
  Range range = {};
  std::vector<GroupMember> members = {};  // groups; all required
  bool required = false;
  std::string meaning = "";
  std::string if_missing = "";
  DefaultSpread spread = {};  // of a constant
  // One of these, by shape; the values of a group come in the order of its members.
  std::function<void(Material&, double)> set = nullptr;
  std::function<void(Material&, Curve)> set_curve = nullptr;
  std::function<void(Material&, const std::vector<double>&)> set_group = nullptr;
};

const std::vector<Property>& material_properties();

}  // namespace tabmelt
