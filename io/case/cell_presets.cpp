#include "io/case/cell_presets.h"

#include <algorithm>

namespace tabmelt {
namespace {

// Nominal diameters follow from the designations (IEC 61960: 18650 is 18 mm by 65 mm). Thickness
// of bottom and cap: typical of production cells, bottom 0.25 to 0.40 mm, cap 0.3 to 0.5 mm, from
// memory; nothing was measured. Radius of the cap: out to the crimp, judgement.
struct Size {
  const char* name;
  const char* bottom_radius;
  const char* bottom_thickness;
  const char* cap_radius;
};
constexpr Size sizes[] = {
    {"18650", "9 mm", "0.30 mm", "6.5 mm"},
    {"21700", "10.5 mm", "0.30 mm", "7.5 mm"},
    {"26650", "13 mm", "0.35 mm", "9 mm"},
    {"32700", "16 mm", "0.40 mm", "11 mm"},
};

// Any fused spot takes the wall behind it to several hundred degrees for a few milliseconds, and a
// film of electrolyte there boils (dimethyl carbonate at 90 degC); no electrode touches the wall.
// So the wall itself is held to its strength, and heat damage is judged where it counts: at the
// insulating disc and at the winding.
constexpr const char* wall_limit = "700 degC";
constexpr const char* wall_reason =
    "steel has lost three quarters of its strength at 700 degC (EN 1993-1-2:2005 table 3.1, 0.23); "
    "taking that as the limit of a wall under pressure and force is engineering judgement";

CellPreset negative_bottom(const Size& size) {
  CellPreset preset;
  preset.can_thickness = size.bottom_thickness;
  preset.can_radius = size.bottom_radius;
  preset.thickness_reason =
      "typical production cell, bottom 0.25 to 0.40 mm, from memory; measure yours";
  preset.radius_reason = "half the nominal diameter in the cell's designation (IEC 61960)";
  preset.inner_wall_limit = wall_limit;
  preset.inner_wall_reason = wall_reason;
  preset.layers = {
      {"electrolyte film", "electrolyte", "0.05 mm", "", ""},
      {"insulating disc", "insulator-pp", "0.2 mm", "160 degC",
       "polypropylene melts from about 160 degC (handbook value, from memory)"},
      {"winding", "jelly-roll", "8 mm", "90 degC",
       "the film on the negative electrode decomposes from 90 to 120 degC (Spotnitz & Franklin "
       "2003, from memory)"},
  };
  preset.layers_reason =
      "engineering judgement: wet gap, 0.1 to 0.3 mm disc, winding; no measured stack";
  return preset;
}

CellPreset positive_cap(const Size& size) {
  CellPreset preset;
  preset.can_thickness = "0.4 mm";
  preset.can_radius = size.cap_radius;
  preset.thickness_reason =
      "typical production cell, cap 0.3 to 0.5 mm, from memory; measure yours";
  preset.radius_reason = "cap out to the crimp; engineering judgement";
  preset.inner_wall_limit = wall_limit;
  preset.inner_wall_reason = wall_reason;
  preset.layers = {
      {"gas gap", "air", "1.5 mm", "", ""},
      {"insulating disc", "insulator-pp", "0.2 mm", "160 degC",
       "polypropylene melts from about 160 degC (handbook value, from memory)"},
      {"winding", "jelly-roll", "8 mm", "90 degC",
       "the film on the negative electrode decomposes from 90 to 120 degC (Spotnitz & Franklin "
       "2003, from memory)"},
  };
  preset.layers_reason =
      "engineering judgement: gas space with vent parts left out, disc, winding; no measured stack";
  return preset;
}

}  // namespace

const std::vector<std::string>& cell_sizes() {
  static const std::vector<std::string> names{"18650", "21700", "26650", "32700"};
  return names;
}

const std::vector<std::string>& cell_ends() {
  static const std::vector<std::string> names{"negative bottom", "positive cap", "none"};
  return names;
}

std::optional<CellPreset> cell_preset(const std::string& size, const std::string& end) {
  const auto found = std::find_if(std::begin(sizes), std::end(sizes),
                                  [&](const Size& s) { return size == s.name; });
  if (found == std::end(sizes)) return std::nullopt;
  if (end == "negative bottom") return negative_bottom(*found);
  if (end == "positive cap") return positive_cap(*found);
  return std::nullopt;
}

}  // namespace tabmelt
