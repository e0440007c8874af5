// A sheet with a skin of another metal, as one material: the layers smeared over the thickness.
//
//   density             (1 - f) d_c + f d_s
//   specific heat       [(1 - f) d_c c_c + f d_s c_s]/density
//   conductivity, z     1/[(1 - f)/k_c + f/k_s]        heat across the sheet: in series
//   conductivity, r     (1 - f) k_c + f k_s            along it: in parallel; its ratio to z cold
//   resistivity         1/[(1 - f)/e_c + f/e_s]        current along the sheet: in parallel
//   fusion, boiling     of the core, its heats per mass of the whole
//   hardness, softening of the skin, which is what touches
//   tensile strength    of the core
//
//   f  share of the skins, both sides together, of the thickness [1]     c core, s skin
//
// Voigt's and Reuss's bounds for layers, e.g. S. Torquato, Random Heterogeneous Materials (2002),
// chapter 16, from memory. Good for a thin skin: where the current passes through the sheet, under
// the tip, the series value would be right, but there the contacts decide; the skin's own fusion is
// left out.
#pragma once

#include "solver/material/material.h"

namespace tabmelt {

// Throws std::invalid_argument unless 0 < skin_share < 1 and both conduct current or neither does.
Material plated(const Material& core, const Material& skin, double skin_share);

}  // namespace tabmelt
