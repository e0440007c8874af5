// What lies under the weld at the two ends of usual cylindrical cells.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace tabmelt {

struct PresetLayer {
  std::string name;
  std::string material;
  std::string thickness;               // with unit
  std::optional<double> molten_limit;  // [1]
  std::optional<double> damage_limit;  // [1]
  std::string limit_reason;            // empty if no limit
};

struct CellPreset {
  double cell_radius = 0;     // [m] nominal
  double cell_length = 0;     // [m] nominal
  std::string can_thickness;  // with unit
  std::string can_radius;     // with unit: of the disc the current spreads in
  std::string thickness_reason;
  std::string radius_reason;
  std::vector<PresetLayer> layers;  // from the can downwards
  std::string layers_reason;
};

const std::vector<std::string>& cell_sizes();    // "18650", ...
const std::vector<std::string>& cell_ends();     // "negative bottom", ..., "none"
const std::vector<std::string>& cell_insides();  // "wet", "dry"

// What usually lies behind this end: "wet" or "dry".
std::string usual_inside(const std::string& end);

// Empty for the end "none" or an unknown word. `inside`: whether the gap behind the metal is filled
// with electrolyte ("wet") or gas ("dry"); empty: as usual for the end. `over_tab`: the tab of the
// electrode is welded to the metal right under the spot.
std::optional<CellPreset> cell_preset(const std::string& size, const std::string& end,
                                      const std::string& inside = "", bool over_tab = false);

}  // namespace tabmelt
