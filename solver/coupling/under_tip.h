// What the tip presses on at one moment: whether it sticks, whether the sheet under it is molten
// through, and how much of its strength the stack needs against the force.
//
// The wall gives way as a plug of the whole stack that the tip pushes inwards, along the cylinder
// of radius r where it is weakest. Hot metal has no fixed strength: it flows, the faster the higher
// its stress. The plug sinks by
//
//   d(sunk)/dt = w sqrt(3) rate u^(1/m),   w the lowest sheet's thickness, about which the shear is
//   spread
//
//   u = max over r of  F min(1, r^2/r_f^2) / (2 pi r  integral over the sheets of sigma(T)/sqrt(3)
//   dz)
//
//   F    force [N]
//   r_f  radius [m] of even pressure: that of the tip's face, and the load's spread at 45 degrees
//   down
//        to the middle of the stack
//   sigma flow stress at `rate`, 100 1/s, the strain rate of a weld [Pa]: H(T)/3 (Tabor, The
//   Hardness
//        of Metals (1951)), at most the cold tensile strength, none in the melt; in shear over
//        sqrt(3), and shear strain sqrt(3) times as large (von Mises)
//   m    0.13, rate sensitivity of hot steel (Misaka & Yoshimoto 1967)
//
// What the cell's pressure adds is left out: 1 bar on a spot of 1 mm is 0.08 N.
#pragma once

#include <vector>

#include "solver/coupling/joint.h"

namespace tabmelt {

// Per column, kelvin above half molten.
struct UnderTip {
  std::vector<double> sticking;  // hotter of the sheet's top and tip face, each above its own
  std::vector<double> through;   // coldest place of the sheet's thickness
};
UnderTip under_tip(const WeldModel&, const Surfaces&, const Field& T, double touching_radius);

struct WallLoad {
  double used = 0;         // [1] u
  double r = 0;            // [m]
  double sinking() const;  // [1/s] d(sunk)/dt over the wall's thickness
};
// Nothing used if the lowest sheet's material has neither hardness nor tensile strength.
WallLoad wall_load(const WeldModel&, const Field& T, double force, double face_radius);

// Radial width [m] of the widest ring of positive values outside `radius`.
double band_beyond(const mesh::AxisymmetricGrid&, const std::vector<double>& at_columns,
                   double radius);

}  // namespace tabmelt
