// The report's section "Source": what it gave and what its parts bore, by the formulas in
// solver/circuit/source_report.h and capacitor.h.
#pragma once

#include "io/report/document.h"
#include "solver/bench/bench_figures.h"

namespace tabmelt::report {

Section source_section(const Problem&, const Result&, const BenchFigures&);

}  // namespace tabmelt::report
