// Each way a spot can turn out, as one function: the deciding number, its limit, the margin, when
// and where. A criterion that the problem or the materials give no ground for (no melting data, a
// contact of fixed resistance, no cell) returns nothing. The advice is filled in by advice.h.
//
// Something bad holds when its number reaches the limit. The margin is
//
//   (limit - value) / (limit - origin)     origin: ambient for temperatures, else 0
//
// with the sign turned for the bond, where more is better. Of two numbers that can decide, the one
// with the smaller margin is reported.
#pragma once

#include <optional>

#include "solver/verdict/verdict.h"

namespace tabmelt::criteria {

// Limits; where no source stands beside one it is engineering judgement.
inline constexpr double expelled_share = 0.005;      // [1] of the energy that reached the spots
inline constexpr double expelled_energy = 20e-3;     // [J] loop
inline constexpr double bursting_share = 0.5;        // [1] of a contact's current
inline constexpr double nugget_share_of_face = 1.0;  // [1] Senkara, Zhang, Hu (2004): 0.8 to 1
// Of the tip's face [1]. The share still rises on finer cells: trimmer-plated-steel has 0.58 on its
// own and 0.67 on ones three times smaller.
inline constexpr double stuck_share = 0.75;
inline constexpr double through_share = 0.5;       // [1] of the tip's face
inline constexpr double ring_per_thickness = 1.5;  // [1] of the strip
inline constexpr double melt_share_of_wall = 0.8;  // [1]
inline constexpr double sunk_share_of_wall = 0.5;  // [1]
inline constexpr double melt_share_advised = 0.5;  // [1] of the can wall, more draws a warning

// Bond ladder; exactly one of the four holds at each joint that can be judged.
// Neither side of the joint reached its melting point.
std::optional<Finding> no_bond(const Problem&, const Result&, std::size_t joint);
// One side melted against the other, no nugget.
std::optional<Finding> stuck(const Problem&, const Result&, std::size_t joint);
// A nugget smaller than the smallest good one.
std::optional<Finding> small_nugget(const Problem&, const Result&, std::size_t joint);
std::optional<Finding> fused(const Problem&, const Result&, std::size_t joint);

// Sparks carried off energy, or half of a contact boiled at once.
std::optional<Finding> surface_sparking(const Problem&, const Result&);
// The nugget outgrew the face that presses it, or metal boiled.
std::optional<Finding> expulsion(const Problem&, const Result&);
// Half of the face under the tip melted, on the tip's side or the sheet's.
std::optional<Finding> electrode_sticking(const Problem&, const Result&);
// The top strip melted through under half of the tip's face, or in a ring beside it that opens.
std::optional<Finding> strip_burn_through(const Problem&, const Result&);
// The lowest sheet melted nearly through, or the force punches through what strength the heat has
// left.
std::optional<Finding> can_puncture(const Problem&, const Result&);

// [m] diameter of all faying area that was ever molten on both sides; the smallest of the joints.
double nugget_diameter(const Result&, std::size_t joint);
double nugget_diameter(const Result&);
// [m] what the nugget of this joint must reach.
double wanted_nugget(const Problem&, std::size_t joint);
// Whether every joint has that.
bool all_fused(const Problem&, const Result&);
// [K] where both materials melt, where the first of them does; nothing if either lacks the figure.
std::optional<double> melting_of_both(const Problem&, std::size_t joint);
std::optional<double> melting_of_either(const Problem&, std::size_t joint);
// The joint whose peak is furthest from melting both of its sides; 0 where nothing is known.
std::size_t coldest_joint(const Problem&, const Result&);

// Of the sheet under the tip and the lowest one; nothing happened to those a result does not have.
const SheetSummary& top_sheet(const Result&);
const SheetSummary& lowest_sheet(const Result&);

// Margin [1] of a value that must stay below its limit.
double margin_below(double value, double limit, double origin = 0);

}  // namespace tabmelt::criteria
