// `plating` of a material in a case or a material file: a skin of another metal on a sheet of it.
//
//   [materials.copper-strip]
//   base = "copper"
//   plating = { material = "nickel-200", thickness = "5 um", sheet = "0.10 mm" }
//
// thickness: of the skins, both sides together; sheet: of the whole. How the two are mixed:
// solver/material/plated.h.
#pragma once

#include <toml++/toml.h>

#include <optional>
#include <string>

#include "io/case/complaint_log.h"

namespace tabmelt {

struct Plating {
  std::string material;
  double share = 0;  // [1] of the thickness
};

// Nothing after a complaint. `name`: of the material that is plated.
std::optional<Plating> read_plating(const std::string& name, const toml::node& node,
                                    ComplaintLog& log);

}  // namespace tabmelt
