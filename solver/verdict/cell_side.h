// Is the inside of the cell safe? Judges the inner can wall and each layer below it against its own
// limit; a layer without one is judged by its melting temperature if the problem protects a cell.
#pragma once

#include <optional>
#include <vector>

#include "solver/verdict/verdict.h"

namespace tabmelt::cell_side {

// The records of the result with the limit each is judged by; limit 0: not judged.
std::vector<LayerRecord> judged_layers(const Problem&, const Result&);

// The layer nearest to its limit, or furthest above; nothing if no layer is judged.
std::optional<Finding> cell_overheated(const Problem&, const Result&);
// That layer's record; nothing if no layer is judged.
std::optional<LayerRecord> worst_layer(const Problem&, const Result&);

// True if no judged layer can still rise to its limit after the end of the run: its peak has
// passed, or the current has ceased and nothing left in the metal is as hot as the limit (heat
// conduction without sources makes no place hotter than the hottest there is).
bool settled(const Problem&, const Result&);

}  // namespace tabmelt::cell_side
