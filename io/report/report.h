// The report of one run for the person at the bench, in the units of the bench. First the verdict
// and its reason, then the numbers that decided it, what a welding engineer asks for, the cell
// side, where the energy went, the source, what was assumed, what is not modelled, cautions, and
// how to repeat the run.
#pragma once

#include <string>

#include "io/case/read_case.h"
#include "io/report/document.h"
#include "solver/result/result.h"
#include "solver/verdict/verdict.h"

namespace tabmelt::report {

// `folder` is where the results lie; it only appears in the command that repeats the run. `date` is
// left out if empty, and so are the seconds if Result::cpu_seconds is 0.
Document report_document(const Case&, const Result&, const Verdict&, const std::string& folder,
                         const std::string& date = "");

// The same as Markdown: report.md.
std::string report_text(const Case&, const Result&, const Verdict&, const std::string& folder,
                        const std::string& date = "");

}  // namespace tabmelt::report
