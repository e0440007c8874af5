// A steady constriction of metals that obey Wiedemann and Franz, k rho = L T, on the solver's
// current field, diffusion operator and contact faces.
#pragma once

namespace tabmelt::neck {

inline constexpr double V = 0.2, T0 = 300;  // [V], [K]

struct Solution {
  double worst = 0;    // [K] T against the relation, largest over all cells
  double hottest = 0;  // [K]
  double current = 0;  // [A]
  double gamma = 0;    // [1/m] resistance of the cold shape over its resistivity, same grid
};

// A rod and a disc joined by a neck; below its middle the metal may have its own conductivity. The
// rod's upper end and the disc's whole mantle are at T0, and at one potential each (the upper end
// is three radii from the neck: even current there means even potential to exp(-3.83 * 3) = 1e-5).
// All else is insulated.
Solution constriction(double k_upper, double k_lower, int cells_per_neck);

}  // namespace tabmelt::neck
