// Is the inside of the cell safe? Judges the inner can wall and each layer below it against its own
// limits: hottest temperature, molten share of its thickness, share of SEI lost. A layer that melts
// and has no limit may melt by half if the problem protects a cell.
#pragma once

#include <optional>
#include <vector>

#include "solver/verdict/verdict.h"

namespace tabmelt::cell_side {

// The records of the result with the limits each is judged by.
std::vector<LayerRecord> judged_layers(const Problem&, const Result&);

// One for each limit the layer has.
std::vector<Finding> findings(const Problem&, const LayerRecord&);

// The layer nearest to its limit, or furthest above; nothing if no layer is judged.
std::optional<Finding> cell_overheated(const Problem&, const Result&);
// That layer's record; nothing if no layer is judged.
std::optional<LayerRecord> worst_layer(const Problem&, const Result&);

// True if no judged layer can still rise to its limit after the end of the run: its peak has
// passed, or the current has ceased and nothing left in the metal is as hot as the limit (heat
// conduction without sources makes no place hotter than the hottest there is).
bool settled(const Problem&, const Result&);

}  // namespace tabmelt::cell_side
