// The single numbers of a run, as stored under /results of the field file and given back in
// StoredRun::scalars. SI units.
//
//   peak_current, peak_temperature, peak_tip, peak_strip_top, peak_faying, peak_strip, peak_can,
//   peak_inner_wall, peak_tip_voltage, peak_faying_voltage, nugget_diameter, strip_penetration,
//   can_penetration            each also with _time, _r and _z
//   nugget_hole_diameter, fused_diameter, soft_diameter, smallest_good_nugget,
//   time_faying_soft, strip_through_radius, vaporised_mass, most_reverse_voltage,
//   can_share_start, can_share_mean, load_resistance_start, load_resistance_least,
//   shear_strength, peel_strength, worst_energy_residual, rejected_steps, cpu_seconds
//   verdict_good, cell_judged, cell_safe, strip_molten_through, spots    1 or 0; a count
//   tip_<n>_ahead, _force_at_start, _force_at_peak, _bounces, _energy, _expelled, _hottest
//                              n = 0: the judged tip, 1: the other; unswitched closing only, with
//                              interruptions
//   ledger_<line>              as in ledger_lines.h, and ledger_residual [J]
//   cell_side_<n>_peak, _time, _limit, _time_above_limit, _damage   n = 0: inner wall, then the
//                              layers from the can down
//   inner_wall_limit, ambient, strip_thickness, can_thickness, tip_radius
//   bench_<name>               as in bench_scalars.h
//   electrode_/strip_/can_solidus, _liquidus                        [K]
//
// A number that does not apply is left out (a limit that is not set, a metal that does not melt).
#pragma once

#include <string>
#include <vector>

#include "solver/problem/problem.h"
#include "solver/result/result.h"
#include "solver/verdict/verdict.h"

namespace tabmelt {

struct Scalar {
  std::string name;
  double value = 0;
  std::string units;
  std::string long_name;
};

std::vector<Scalar> result_scalars(const Problem&, const Result&, const Verdict&);

// The extremes with place and moment, in one order for result file, summary and report.
struct NamedExtreme {
  const char* name;
  const char* units;
  const char* long_name;
  Extreme extreme;
};
std::vector<NamedExtreme> extremes(const Result&);

}  // namespace tabmelt
