// Where a quantity given at the middle radii of the columns is positive: the molten part of a
// plane, the part of a strip that is molten through.
//
// Between two columns the quantity runs straight in r^2, which is exact for the regular field at
// the axis, A + B r^2, and of second order elsewhere. Inside the first column and beyond the last
// one the nearest straight line goes on, so that a spot which opens at the axis grows from area 0
// and one that reaches the limit arrives there without a step.
#pragma once

#include <vector>

#include "mesh/axisymmetric_grid.h"

namespace tabmelt::mesh {

struct PositiveRings {
  double area = 0;   // [m^2]
  double hole = 0;   // [m] radius where it first becomes positive; 0: on the axis, or nowhere
  double outer = 0;  // [m] outermost radius where it is positive; 0: nowhere
};

// Inside `limit` [m] only. One value speaks for all radii up to the limit.
PositiveRings positive_rings(const AxisymmetricGrid&, const std::vector<double>& at_columns,
                             double limit);

}  // namespace tabmelt::mesh
