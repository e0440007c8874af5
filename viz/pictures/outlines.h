// The lines around the parts of a stored run, and around what a field reaches in them.
#pragma once

#include "viz/pictures/section_mesh.h"

namespace tabmelt::pictures {

// Surfaces of the parts [mm]; the tip touches over this radius [m].
std::vector<Polyline> part_outlines(const StoredRun&, const Window&, double touching);

// Edge of what is molten [mm], at half melted: each metal at its own melting temperature, whose
// isotherm knows the place to a fraction of a cell. Where a run does not store these temperatures,
// at half of the liquid fraction [1]. Nuggets are measured the same way (solver/coupling/joint.h).
std::vector<Polyline> melt_outline(const StoredRun&, const Section&,
                                   const std::vector<float>& kelvin,
                                   const std::vector<float>& liquid);

}  // namespace tabmelt::pictures
