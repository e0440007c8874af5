// A text file beside the field file, XDMF 3, for readers that do not play VTKHDF steps (ParaView
// 5.11 and others). It holds no data: every frame points into the flat arrays of the field file
// with the bar form `path|start:stride:count:size` that XDMF 3 readers understand; the older
// HyperSlab element loses the arrays there.
#pragma once

#include <string>
#include <vector>

#include "mesh/axisymmetric_grid.h"

namespace tabmelt {

// field_file is a name without folder: both files lie side by side.
std::string xdmf_text(const std::string& field_file, const mesh::AxisymmetricGrid& grid,
                      const std::vector<double>& times);

}  // namespace tabmelt
