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

// What the ends do not share. A gap is as thick wet as dry; thicknesses: engineering judgement.
struct End {
  const char* name;
  bool wet;                   // a cell kept upright
  const char* can_thickness;  // null: as the size says
  const char* thickness_reason;
  bool cap;  // its disc ends at the crimp, not at the cell's rim
  const char* radius_reason;
  const char* gap;
  const char* layers_reason;
};
constexpr End ends[] = {
    {"negative bottom", true, nullptr,
     "typical production cell, bottom 0.25 to 0.40 mm; measure yours", false,
     "half the nominal diameter in the cell's designation (IEC 61960)", "0.05 mm",
     "engineering judgement: wet or dry gap, 0.1 to 0.3 mm disc, winding; no measured stack"},
    {"positive cap", false, "0.4 mm", "typical production cell, cap 0.3 to 0.5 mm; measure yours",
     true, "cap out to the crimp; engineering judgement", "1.5 mm",
     "engineering judgement: gas space with vent parts left out, disc, winding; no measured stack"},
    // A plate of its own welded or crimped in: no embossed cap, less space behind it.
    {"flat positive", false, "0.3 mm", "typical flat top 0.25 to 0.4 mm; measure yours", true,
     "flat top out to the crimp; engineering judgement", "0.5 mm",
     "engineering judgement: gas space with vent parts left out, disc, winding; no measured stack"},
};

template <typename List>
const auto* named(const List& list, const std::string& name) {
  const auto found = std::find_if(std::begin(list), std::end(list),
                                  [&](const auto& one) { return name == one.name; });
  return found == std::end(list) ? nullptr : &*found;
}

template <typename List>
std::vector<std::string> names(const List& list) {
  std::vector<std::string> all;
  for (const auto& one : list) all.emplace_back(one.name);
  return all;
}

std::vector<PresetLayer> layers(const End& end, bool wet) {
  return {
      {wet ? "electrolyte film" : "gas gap", wet ? "electrolyte" : "air", end.gap, {}, {}, ""},
      {"insulating disc",
       "insulator-pp",
       "0.2 mm",
       0.5,
       {},
       "engineering judgement: a disc of polypropylene that has melted by half still parts can and "
       "winding"},
      {"winding",
       "jelly-roll",
       "8 mm",
       {},
       0.01,
       "engineering judgement: one per cent of the film (SEI) on the negative electrode, by the "
       "kinetics of Hatchard et al., J. Electrochem. Soc. 148 (2001) A755"},
  };
}

}  // namespace

const std::vector<std::string>& cell_sizes() {
  static const std::vector<std::string> all = names(sizes);
  return all;
}

const std::vector<std::string>& cell_ends() {
  static const std::vector<std::string> all = [] {
    std::vector<std::string> list = names(ends);
    list.emplace_back("none");
    return list;
  }();
  return all;
}

const std::vector<std::string>& cell_insides() {
  static const std::vector<std::string> all{"wet", "dry"};
  return all;
}

std::string usual_inside(const std::string& end) {
  const End* found = named(ends, end);
  return found && found->wet ? "wet" : "dry";
}

std::optional<CellPreset> cell_preset(const std::string& size_name, const std::string& end_name,
                                      const std::string& inside, bool over_tab) {
  const Size* size = named(sizes, size_name);
  const End* end = named(ends, end_name);
  if (!size || !end) return std::nullopt;
  CellPreset preset;
  preset.cell_radius = size->radius;
  preset.cell_length = size->length;
  preset.can_thickness = end->can_thickness ? end->can_thickness : size->bottom_thickness;
  preset.thickness_reason = end->thickness_reason;
  preset.can_radius = end->cap ? size->cap_radius : size->bottom_radius;
  preset.radius_reason = end->radius_reason;
  preset.layers = layers(*end, (inside.empty() ? usual_inside(end_name) : inside) == "wet");
  preset.layers_reason = end->layers_reason;
  // Typical of production cells, from memory.
  if (over_tab)
    preset.layers.insert(preset.layers.begin(),
                         {"internal tab", "nickel-200", "0.1 mm", {}, {}, ""});
  return preset;
}

}  // namespace tabmelt
