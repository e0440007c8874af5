#include "io/case/cell_presets.h"

#include <algorithm>

namespace tabmelt {
namespace {

// Nominal diameters and lengths follow from the designations (IEC 61960: 18650 is 18 mm by 65.0
// mm). Thickness of bottom and cap: typical of production cells, bottom 0.25 to 0.40 mm, cap 0.3 to
// 0.5 mm, from memory; nothing was measured. Radius of the cap: out to the crimp, judgement.
struct Size {
  const char* name;
  const char* bottom_radius;
  const char* bottom_thickness;
  const char* cap_radius;
  double radius, length;  // [m]
};
constexpr Size sizes[] = {
    {"18650", "9 mm", "0.30 mm", "6.5 mm", 9e-3, 65e-3},
    {"21700", "10.5 mm", "0.30 mm", "7.5 mm", 10.5e-3, 70e-3},
    {"26650", "13 mm", "0.35 mm", "9 mm", 13e-3, 65e-3},
    {"32700", "16 mm", "0.40 mm", "11 mm", 16e-3, 70e-3},
};

// Any fused spot takes the wall behind it to several hundred degrees for a few milliseconds, and a
// film of electrolyte there boils (dimethyl carbonate at 90 degC); no electrode touches the wall.
// So the wall itself is held to its strength, and heat damage is judged where it counts: at the
// insulating disc and at the winding.
constexpr const char* wall_limit = "700 degC";
constexpr const char* wall_reason =
    "steel has lost three quarters of its strength at 700 degC (EN 1993-1-2:2005 table 3.1, 0.23); "
    "taking that as the limit of a wall under pressure and force is engineering judgement";

// The gap between metal and disc. Thicknesses: engineering judgement.
PresetLayer gap(bool wet, const char* film, const char* space) {
  if (wet) return {"electrolyte film", "electrolyte", film, "", ""};
  return {"gas gap", "air", space, "", ""};
}

CellPreset negative_bottom(const Size& size, bool wet) {
  CellPreset preset;
  preset.can_thickness = size.bottom_thickness;
  preset.can_radius = size.bottom_radius;
  preset.thickness_reason =
      "typical production cell, bottom 0.25 to 0.40 mm, from memory; measure yours";
  preset.radius_reason = "half the nominal diameter in the cell's designation (IEC 61960)";
  preset.inner_wall_limit = wall_limit;
  preset.inner_wall_reason = wall_reason;
  preset.layers = {
      gap(wet, "0.05 mm", "0.05 mm"),
      {"insulating disc", "insulator-pp", "0.2 mm", "160 degC",
       "polypropylene melts from about 160 degC (handbook value, from memory)"},
      {"winding", "jelly-roll", "8 mm", "90 degC",
       "the film on the negative electrode decomposes from 90 to 120 degC (Spotnitz & Franklin "
       "2003, from memory)"},
  };
  preset.layers_reason =
      "engineering judgement: wet or dry gap, 0.1 to 0.3 mm disc, winding; no measured stack";
  return preset;
}

CellPreset positive_cap(const Size& size, bool wet) {
  CellPreset preset;
  preset.can_thickness = "0.4 mm";
  preset.can_radius = size.cap_radius;
  preset.thickness_reason =
      "typical production cell, cap 0.3 to 0.5 mm, from memory; measure yours";
  preset.radius_reason = "cap out to the crimp; engineering judgement";
  preset.inner_wall_limit = wall_limit;
  preset.inner_wall_reason = wall_reason;
  preset.layers = {
      gap(wet, "1.5 mm", "1.5 mm"),
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

// A flat top is a plate of its own welded or crimped in: no embossed cap, less space behind it.
CellPreset flat_positive(const Size& size, bool wet) {
  CellPreset preset = positive_cap(size, wet);
  preset.can_thickness = "0.3 mm";
  preset.thickness_reason = "typical flat top 0.25 to 0.4 mm, from memory; measure yours";
  preset.radius_reason = "flat top out to the crimp; engineering judgement";
  preset.layers.front() = gap(wet, "0.5 mm", "0.5 mm");
  return preset;
}

}  // namespace

const std::vector<std::string>& cell_sizes() {
  static const std::vector<std::string> names{"18650", "21700", "26650", "32700"};
  return names;
}

const std::vector<std::string>& cell_ends() {
  static const std::vector<std::string> names{"negative bottom", "positive cap", "flat positive",
                                              "none"};
  return names;
}

const std::vector<std::string>& cell_insides() {
  static const std::vector<std::string> names{"wet", "dry"};
  return names;
}

std::string usual_inside(const std::string& end) {
  return end == "negative bottom" ? "wet" : "dry";
}

std::optional<CellPreset> cell_preset(const std::string& size, const std::string& end,
                                      const std::string& inside) {
  const auto found = std::find_if(std::begin(sizes), std::end(sizes),
                                  [&](const Size& s) { return size == s.name; });
  if (found == std::end(sizes)) return std::nullopt;
  const bool wet = (inside.empty() ? usual_inside(end) : inside) == "wet";
  std::optional<CellPreset> preset;
  if (end == "negative bottom") preset = negative_bottom(*found, wet);
  if (end == "positive cap") preset = positive_cap(*found, wet);
  if (end == "flat positive") preset = flat_positive(*found, wet);
  if (!preset) return std::nullopt;
  preset->cell_radius = found->radius;
  preset->cell_length = found->length;
  return preset;
}

}  // namespace tabmelt
