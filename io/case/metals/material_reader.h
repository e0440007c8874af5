// TOML properties to a Material (form: material_schema.h).
#pragma once

#include <toml++/toml.h>

#include <map>
#include <memory>
#include <string>

#include "io/case/complaint_log.h"
#include "solver/material/material.h"

namespace tabmelt {

// The properties of one material, each where it stands; they may come from several files.
using PropertyNodes = std::map<std::string, const toml::node*>;

// Null after a complaint. `place`: where the material itself stands, for what is missing.
std::shared_ptr<const Material> read_material(const std::string& name, const PropertyNodes& nodes,
                                              const toml::source_region& place, ComplaintLog& log);

// Complains about every key that is no property; suggests the nearest.
void check_property_names(const std::string& name, const toml::table& table, ComplaintLog& log);

}  // namespace tabmelt
