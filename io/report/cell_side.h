// The inner wall and the layers inside the cell, as judged.
#pragma once

#include <string>
#include <vector>

#include "solver/result/result.h"
#include "solver/verdict/verdict.h"

namespace tabmelt::report {

// [0] is the inner wall. The verdict's list if it judged a cell, else what the run recorded.
inline const std::vector<LayerRecord>& cell_side(const Result& run, const Verdict& verdict) {
  return verdict.cell_side.empty() ? run.inner_wall_and_layers : verdict.cell_side;
}

// "within its limits", "LIMIT EXCEEDED" or "not settled ..."; then the layers without a limit that
// got hot enough to boil electrolyte, so that nobody takes "within" for "cool".
std::string cell_side_words(const Verdict&);
// The second half alone: empty, or "; hot without a limit of their own: ...".
std::string hot_without_limit(const Verdict&);

// What a layer is held to: "160 °C", "half molten", "1 % of its SEI film"; "none".
std::string limit_text(const LayerRecord&);
// Loss of SEI where it is judged, "-" elsewhere: no electrode lies at the wall.
std::string damage_text(const LayerRecord&);

}  // namespace tabmelt::report
