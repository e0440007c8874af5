// What a fused spot is expected to hold, one spot, pulled along the strip (shear) or off it (peel).
//
//   through the nugget          F_i = pi/4 d^2 tau_w    tau_w = 0.6 UTS of the weaker of the two
//   button torn out of strip    F_p = 2.5 d t UTS       UTS of the upper sheet
//   shear                       F   = min(F_i, F_p)
//   peel                        F/5
//
//   d  nugget diameter [m]   t  thickness of the upper sheet, of the thinner of two strips [m] UTS
//   tensile strength [Pa] cold
//
// 0.6: the usual ratio of shear to tensile strength of ductile metals (common practice, no source).
// 2.5: Sawhill & Baker, Weld. J. 59 (1980) 19-s, lap-shear strength of spot welds in sheet
// steel, 2.5 to 3.1 (from memory). Peel: lap shear is 4 to 7 times T-peel, Das et al., J. Braz.
// Soc. Mech. Sci. Eng. 41 (2019) 54, measured on aluminium and nickel-plated copper tabs, not on
// nickel on a can. Cold strength is used; the heat of the weld anneals hard strip, so the figure is
// a rough one and no substitute for peeling a sample.
#pragma once

#include "solver/problem/problem.h"

namespace tabmelt {

double interfacial_shear(double nugget_diameter, double shear_strength);           // [N]
double button_pull_out(double nugget_diameter, double thickness, double tensile);  // [N]

struct Strength {
  double shear = 0;  // [N]; 0: no nugget, or the materials carry no tensile strength
  double peel = 0;   // [N]
};
Strength spot_strength(const Problem&, std::size_t joint, double nugget_diameter);

// [m] of the sheet a button is torn out of at this joint: on a can the upper one, of two strips
// the thinner.
double weaker_thickness(const Problem&, std::size_t joint);

// max(4 t, 0.45 mm) [m]: where a button tears out before a joint as strong as the strip shears (pi
// d t against pi/4 d^2), and never a nugget too small to find again. Engineering judgement: the
// rules of 3.5 to 5 sqrt(t/mm) mm in use for sheet belong to ISO 14373, whose scope starts at 0.4
// mm, and ask for more than a 1.5 mm tip can give.
double smallest_good_nugget(double strip_thickness);
inline constexpr const char* smallest_good_nugget_basis =
    "engineering judgement: max(4 t, 0.45 mm), where the strip tears before the joint shears; "
    "sheet-metal rules (ISO 14373) start at 0.4 mm thickness";

}  // namespace tabmelt
