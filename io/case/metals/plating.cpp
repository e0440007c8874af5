#include "io/case/metals/plating.h"

#include <fmt/format.h>

#include "io/case/units.h"

namespace tabmelt {

std::optional<Plating> read_plating(const std::string& name, const toml::node& node,
                                    ComplaintLog& log) {
  const std::string key = fmt::format("materials.{}.plating", name);
  const toml::table* table = node.as_table();
  bool sound = table != nullptr;
  if (table)
    for (const auto& [word, value] : *table)
      sound = sound && value.is_string() &&
              (word.str() == "material" || word.str() == "thickness" || word.str() == "sheet");
  if (!sound || table->size() != 3) {
    log.add(node.source(),
            key +
                " must be a table of three texts: { material = \"nickel-200\", thickness = "
                "\"5 um\", sheet = \"0.10 mm\" }, thickness of both skins together");
    return std::nullopt;
  }
  const auto text = [&](const char* word) { return table->get(word)->value_or(std::string()); };
  try {
    const double skin = units::in_si(text("thickness"), "um");
    const double sheet = units::in_si(text("sheet"), "mm");
    if (skin > 0 && skin < sheet) return Plating{text("material"), skin / sheet};
    log.add(node.source(), key + ".thickness must be above zero and below that of the sheet");
  } catch (const units::UnitError& error) {
    log.add(node.source(), fmt::format("{}: {}", key, error.what()));
  }
  return std::nullopt;
}

}  // namespace tabmelt
