// The lines around the parts of a stored run, and around what a field reaches in them.
#pragma once

#include "viz/pictures/parts.h"

namespace tabmelt::pictures {

// Surfaces of the parts [mm].
std::vector<Polyline> part_outlines(const StoredRun&, const Window&);

// Edge of the set field >= level over several regions: isolines within each region, and those
// pieces of the interfaces where only one side reaches the level [mm].
std::vector<Polyline> set_outline(const StoredRun&, const std::vector<float>& field, double level,
                                  const std::vector<std::uint8_t>& regions, const Window&);

}  // namespace tabmelt::pictures
