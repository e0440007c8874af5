// What a faying plane looks like at one moment: where both surfaces are molten or soft, and how
// deep the melt reaches into the sheets above and below.
#pragma once

#include <vector>

#include "solver/coupling/surfaces.h"

namespace tabmelt {

// Per face of the faying plane, kelvin above a temperature of its own on the colder side:
// min over the two sides of (surface temperature - threshold of that side's material).
struct JointExcess {
  std::vector<double> molten;  // [K] above half molten
  std::vector<double> soft;    // [K] above softening
};

struct JointMoment {
  JointExcess excess;
  double molten_area = 0;     // [m^2]
  double hole_radius = 0;     // [m] unmelted middle of a ring; 0: none
  double melt_above = 0;      // [m] deepest melt into the sheet above, and below
  double melt_below = 0;      // [m]
  bool through = false;       // melt from the plane to the upper surface of the sheet above
  double through_radius = 0;  // [m] outermost
  double hottest = 0;         // [K] max over faces of the colder side
  double hottest_r = 0;       // [m]
};

// Only what touches, inside `radius` [m], can bond.
JointMoment joint_moment(const WeldModel&, std::size_t joint, const Surfaces&, const Field& T,
                         double radius);

// Area [m^2] where a quantity given at the faces' middle radii is positive, with straight lines
// between them; `hole` returns the radius at which it first becomes positive.
double positive_area(const mesh::AxisymmetricGrid&, const std::vector<double>& at_faces,
                     double largest_radius, double& hole);

}  // namespace tabmelt
