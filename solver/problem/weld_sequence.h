// How warm the end of a cell gets when several welds follow one another on it.
//
// Each weld leaves its heat Q on the end of the winding, a rod of length H and cross-section A that
// loses nothing. Long after the pulse (t well above the time heat needs across the end) the end is
// warmer by
//
//   rise(t) = Q / (A sqrt(pi k c t)) [1 + 2 sum_n exp(-n^2 H^2 c/(k t))]       n = 1, 2, ...
//   k  conductivity along the axis [W/m/K]     c  heat capacity per volume [J/m^3/K]
//
// (instantaneous plane source on an insulated face, mirrored at the far end: H. S. Carslaw and
// J. C. Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), 10.3 and 14.2, from memory); for
// large t it tends to Q/(A H c). The equation is linear, so the rises of earlier welds add up:
//
//   before weld N, a pause p apart:   sum over m = 1 .. N - 1 of rise(m p)
//
// Before that the heat must have spread over the end. In a thin sheet the heat of one spot is felt
// most at a distance d after
//
//   t = d^2/(4 a)        a  diffusivity of the sheet [m^2/s]
//
// (instantaneous line source, the same book, 10.3), so no pause shorter than that is called safe.
//
// The rise is the mean over the end; right beside the last spot it is warmer. The gap and disc
// between can and winding, and all losses to the air, are left out. Engineering judgement.
#pragma once

#include <optional>

namespace tabmelt {

struct WindingRod {
  double radius = 0;         // [m]
  double length = 0;         // [m]
  double conductivity = 0;   // [W/m/K] along the axis
  double heat_capacity = 0;  // [J/m^3/K]
};

// All throw std::invalid_argument unless the rod's values, the time and the pause are positive and
// there is at least one weld.
double end_rise(const WindingRod&, double heat, double time);                      // [K]
double rise_before_last(const WindingRod&, double heat, int welds, double pause);  // [K]
// Shortest pause [s] with which the end is no more than `allowed` [K] above its start when the last
// weld begins; 0 for a single weld; nothing if no pause suffices.
std::optional<double> shortest_pause(const WindingRod&, double heat, int welds, double allowed);

// Time [s] after which heat is felt most at a distance [m] in a thin sheet.
double spreading_time(double distance, double diffusivity);

}  // namespace tabmelt
