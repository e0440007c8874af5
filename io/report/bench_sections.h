// Report sections about what stands on the bench: the parts of the source, the leads, the switch,
// charging, and several welds on one cell. Every figure follows from the run by the formulas in
// solver/circuit/source_report.h, capacitor.h, lead_heating.h, turn_off.h, charging.h and
// solver/problem/weld_sequence.h.
#pragma once

#include <vector>

#include "io/report/document.h"
#include "solver/problem/problem.h"
#include "solver/result/result.h"

namespace tabmelt::report {

// Only those that say something about this case.
std::vector<Section> bench_sections(const Problem&, const Result&);

}  // namespace tabmelt::report
