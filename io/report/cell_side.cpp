#include "io/report/cell_side.h"

#include <fmt/format.h>

#include "solver/words/in_words.h"

namespace tabmelt {

std::string limit_text(const LayerRecord& layer) {
  std::string text;
  const auto add = [&text](const std::string& one) { text += (text.empty() ? "" : ", ") + one; };
  if (layer.limit > 0) add(in_words::temperature(layer.limit));
  if (layer.molten_limit > 0) add(fmt::format("{:.3g} % molten", 100 * layer.molten_limit));
  if (layer.damage_limit > 0) add(fmt::format("{:.3g} % SEI lost", 100 * layer.damage_limit));
  return text.empty() ? "none" : text;
}

}  // namespace tabmelt
