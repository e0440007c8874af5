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
inline constexpr double bursting_share = 0.98;       // [1] of the cold boiling voltage
inline constexpr double nugget_share_of_face = 0.9;  // [1] Senkara, Zhang, Hu (2004): 0.8 to 1
inline constexpr double melt_share_of_wall = 0.8;    // [1]
inline constexpr double melt_share_advised = 0.5;    // [1] of the can wall, more draws a warning
inline constexpr double hot_wall = 1173.15;          // [K] 900 C: steel keeps little strength
inline constexpr double boiling_plateau = 0.1;       // [K] a boiling cell is this close to boiling

// Bond ladder; exactly one of the three holds if any of them can be judged.
// Holds if the faying surface never reached the softening of both materials.
std::optional<Finding> no_bond(const Problem&, const Result&);
// Softened but no nugget of the smallest good size. Without melting data: at least stuck.
std::optional<Finding> stuck(const Problem&, const Result&);
std::optional<Finding> fused(const Problem&, const Result&);

// A contact burst before the faying nugget formed, or sparks carried off energy.
std::optional<Finding> surface_sparking(const Problem&, const Result&);
// The nugget outgrew the face that presses it, or metal boiled.
std::optional<Finding> expulsion(const Problem&, const Result&);
// Electrode face or strip surface melted.
std::optional<Finding> electrode_sticking(const Problem&, const Result&);
// The strip melted through out to the edge of the tip, or boiled.
std::optional<Finding> strip_burn_through(const Problem&, const Result&);
// The can wall melted nearly through, or its inside is hot enough to give way.
std::optional<Finding> can_puncture(const Problem&, const Result&);

// [m] diameter of all faying area that was ever molten on both sides.
double nugget_diameter(const Result&);
// [K] where both materials soften, melt; nothing if either lacks the figure.
std::optional<double> softening_of_both(const Problem&);
std::optional<double> melting_of_both(const Problem&);
// [J] heat that reached the spots plus what they expelled, whole loop.
double spot_energy(const Ledger&);
// [V] over a contact whose hottest spot boils, ends at `T0` (Kohlrausch): 2 sqrt(L (Tb^2 - T0^2)).
double boiling_voltage(double boiling_temperature, double T0);
// The time [s] the nugget first appeared; nothing if it never did.
std::optional<double> first_melt(const Result&);

// Margin [1] of a value that must stay below its limit.
double margin_below(double value, double limit, double origin = 0);

}  // namespace tabmelt::criteria
