// Spreading resistance on the solver's diffusion operator: a round spot on a body, on a sheet.
#pragma once

namespace tabmelt::spreading {

inline constexpr double kappa = 1.25e7;  // [S/m] round number
inline constexpr double a = 2.5e-4;      // [m] radius of the spot

// Cylinder of this radius and height with the spot on its upper end, its lower end grounded, cells
// `resolution` times finer than a basic choice: mean potential of the spot per ampere. Even current
// over the spot, or the spot at one potential (a perfect conductor on top of it).
double resistance(double outer, double height, double resolution, bool equipotential = false);

// Sheet of thickness t under the spot, insulated below, its rim at R grounded, solved by the
// potential solver of a weld; even current over the spot.
double sheet_resistance(double t, double R, double resolution);

}  // namespace tabmelt::spreading
