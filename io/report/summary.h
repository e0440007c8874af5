// summary.json: a run's outcome for scripts. SI units throughout; keys are stable, new ones may be
// added. A number that is not finite or does not apply is null.
//
//   schema "tabmelt-summary", schema_version 1, program_version, date, title, case_file
//   ending        state "finished" | "stopped" | "failed"; reason; time [s] reached
//   verdict       leading (key, e.g. "fused"), words, good, sentence,
//                 findings [outcome, words, holds, quantity, value, limit, unit, margin, time [s],
//                 r [m], z [m], basis, advice], worst first
//   nugget        diameter, hole_diameter, fused_diameter, soft_diameter, smallest_good_diameter
//                 [m], time [s], time_soft [s]
//   strength      shear, peel [N], estimates for one spot
//   penetration   strip, can: depth [m], share [1] of the thickness, time [s]; strip also
//                 molten_through, through_radius [m]
//   peaks         peak_... (result_scalars.h): value, unit, time [s], r [m], z [m]
//   electrical    peak_current [A], load_resistance_start, load_resistance_least,
//                 tip_resistance_start, faying_resistance_start [ohm], can_share_start,
//                 can_share_mean [1], spots
//   source        kind "capacitor_bank" | "battery" | "bench_supply" | "prescribed_current";
//   stored_before,
//                 left_in_source, switch_off [J]; most_reverse_voltage [V];
//                 current_per_capacitor, rated_current [A], current_rating_exceeded,
//                 voltage_per_capacitor, rated_voltage [V], voltage_rating_exceeded
//   landing       null behind a switch; otherwise tips [tip "both" | "first" | "second", ahead [s],
//                 force_at_start, force_at_peak [N], bounces, energy, expelled [J], hottest [K]],
//                 the judged one first; interruptions
//   ledger        stored_before, from_source, left_in_source, sinks {key: J}, residual [J]
//   vaporised_mass  [kg]
//   cell          judged, safe
//   cell_side     [name, peak [K], time [s], r [m], limit [K], limit_reason, passes,
//                 time_above_limit [s], damage [1], melting_temperature [K]]; [0] is the inner
//                 wall; limit and passes are null where there is no limit
//   numerics      steps, rejected_steps, frames, cells, worst_energy_residual [1], cpu_seconds
//   defaults      [key, value, reason]
//   notes         [text]
#pragma once

#include <string>

#include "io/case/read_case.h"
#include "solver/result/result.h"
#include "solver/verdict/verdict.h"

namespace tabmelt {

std::string summary_json(const Case&, const Result&, const Verdict&, std::size_t frames);

}  // namespace tabmelt
