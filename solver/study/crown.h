// Does the verdict on a nearly flat tip hang on how flat it is?
//
// A face whose middle stands out by less than some 10 um is no longer known to touch in the middle:
// a can bottom dishes under the force of a tip, so that the rim may touch instead, which nothing
// here models. Estimate for 30 N on a bottom of 0.3 mm steel, radius a = 9 mm, under a tip of c =
// 0.75 mm: stiffness D = E t^3/(12 (1 - nu^2)) = 0.51 N m, curvature about F/(4 pi D) (ln(a/c) +
// 0.5) = 14 1/m (thin plate, Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, from
// memory), which over the tip's radius is 4 um. Such a weld is computed again with crowns of 3 and
// of 10 um.
#pragma once

#include <optional>
#include <string>

#include "solver/problem/problem.h"

namespace tabmelt {

// [m] by which the middle of the face stands out over its edge; 0: truly flat.
double crown(const Electrode&);

// One sentence if the two crowns lead to different outcomes; nothing if they agree, if the tip is
// rounder than 10 um, or if its contact is fixed. Two runs on a coarser grid.
std::optional<std::string> crown_warning(const Problem&);

}  // namespace tabmelt
