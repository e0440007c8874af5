// What a faying plane looks like at one moment: where both surfaces are molten or soft, and how
// deep the melt reaches into the sheets above and below.
#pragma once

#include <vector>

#include "solver/coupling/surfaces.h"

namespace tabmelt {

// Kelvin above a threshold that is never reached; finite, so that fronts can be interpolated.
constexpr double never = -1e9;

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
  double through_radius = 0;  // [m] outermost where the whole sheet above is molten; 0: nowhere
  double hottest = 0;         // [K] max over faces of the colder side
  double hottest_r = 0;       // [m]
};

// Only what touches, inside `radius` [m], can bond.
JointMoment joint_moment(const WeldModel&, std::size_t joint, const Surfaces&, const Field& T,
                         double radius);

// Per column: kelvin above half molten at the coldest place of the sheet's thickness, its two
// surfaces included; `never` if it does not melt.
std::vector<double> molten_through(const WeldModel&, const Surfaces&, const Field& T,
                                   std::size_t sheet, std::size_t columns);

}  // namespace tabmelt
