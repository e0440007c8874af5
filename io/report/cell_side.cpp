#include "io/report/cell_side.h"

#include <fmt/format.h>

#include "solver/words/in_words.h"

namespace tabmelt::report {

namespace {

// The lowest-boiling usual part of an electrolyte, dimethyl carbonate, boils at 90 degC (CRC
// Handbook of Chemistry and Physics). [K]
constexpr double electrolyte_boils = 363.15;

}  // namespace

std::string hot_without_limit(const Verdict& verdict) {
  std::string list;
  for (const LayerRecord& layer : verdict.cell_side)
    if (!is_judged(layer) && layer.peak.value > electrolyte_boils)
      list += fmt::format("{}{} {}", list.empty() ? "" : ", ", layer.name,
                          in_words::temperature(layer.peak.value));
  return list.empty() ? ""
                      : "; hot enough to boil electrolyte, without a limit of its own: " + list;
}

std::string cell_side_words(const Verdict& verdict) {
  const std::string first = verdict.cell_safe      ? "within its limits"
                            : verdict.cell_settled ? "LIMIT EXCEEDED"
                                                   : "not settled, its peak was not reached";
  return first + hot_without_limit(verdict);
}

std::string damage_text(const LayerRecord& layer) {
  return layer.damage_limit > 0 ? in_words::damage(layer.damage) : "-";
}

std::string limit_text(const LayerRecord& layer) {
  std::string text;
  const auto add = [&text](const std::string& one) { text += (text.empty() ? "" : ", ") + one; };
  if (layer.limit > 0) add(in_words::temperature(layer.limit));
  if (layer.molten_limit > 0) add(fmt::format("{:.3g} % molten", 100 * layer.molten_limit));
  if (layer.damage_limit > 0) add(fmt::format("{:.3g} % SEI lost", 100 * layer.damage_limit));
  return text.empty() ? "none" : text;
}

}  // namespace tabmelt::report
