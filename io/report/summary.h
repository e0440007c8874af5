// summary.json: a run's outcome for scripts. SI units throughout; keys are stable, new ones may be
// added. A number that is not finite or does not apply is null.
//
//   schema "tabmelt-summary", schema_version 1, program_version, date (of the run, unless it was to
//   be left
//                 out), title, case_file
//   ending        state "finished" | "stopped" | "failed"; reason; time [s] reached
//   verdict       leading (key, e.g. "fused"), words, good, sentence,
//                 findings [outcome, words, holds, quantity, value, limit, unit, margin, time [s],
//                 r [m], z [m], basis, advice], worst first
//   quantities    topic -> key -> value, unit, meaning, and time [s], r [m], z [m] if it has a
//                 place: the catalogue (solver/catalogue/catalogue.h)
//   cell_side     [name, limit_reason, passes]; [0] is the inner wall; passes is null where there
//   is
//                 no limit; the numbers are cell_side_<n>_... of the topic cell_side
//   warnings      [text] about source, leads and switch
//   frames        stored
//   inputs        [key, value, default: true if the case did not state it]: every key there is
//   materials     [name, file]: where each was read
//   defaults      [key, value, reason]
//   notes         [text]
#pragma once

#include <string>

#include "io/case/read_case.h"
#include "solver/result/result.h"
#include "solver/verdict/verdict.h"

namespace tabmelt::report {

// date: left out if empty.
std::string summary_json(const Case&, const Result&, const Verdict&, std::size_t frames,
                         const std::string& date = "");

}  // namespace tabmelt::report
