#include <fmt/format.h>

#include <algorithm>

#include "io/command/asked_cases.h"
#include "io/command/commands.h"
#include "io/command/console_report.h"
#include "io/command/progress.h"
#include "io/command/side_by_side.h"
#include "io/command/stop_signal.h"
#include "solver/solve.h"

namespace tabmelt::command {
namespace {

bool protects_a_cell(const Problem& problem) {
  return problem.cell_limits ||
         std::any_of(problem.inner.begin(), problem.inner.end(), [](const InnerLayer& layer) {
           return layer.limit || layer.molten_limit || layer.damage_limit;
         });
}

// A script must not take "nothing to judge" for "safe".
void require_cells(const std::vector<AskedCase>& cases) {
  std::vector<Complaint> complaints;
  for (const AskedCase& next : cases) {
    if (protects_a_cell(next.asked.problem)) continue;
    complaints.push_back({next.asked.file.string(), 0, "",
                          "this case protects no cell, so there is nothing to check"});
  }
  if (!complaints.empty()) throw InputError(std::move(complaints));
}

ExitStatus cell_status(const Verdict& verdict) {
  if (verdict.cell_safe) return ExitStatus::fine;
  // A limit that is already passed needs no waiting for the peak.
  const bool passed = std::any_of(
      verdict.cell_side.begin(), verdict.cell_side.end(),
      [](const LayerRecord& layer) { return is_judged(layer) && !within_limits(layer); });
  return passed || verdict.cell_settled ? ExitStatus::limit_exceeded : ExitStatus::unfinished;
}

Answer checked(const AskedCase& next, ProgressBar& bar, std::size_t index) {
  if (stop_requested()) {
    return {"", fmt::format("{}: not started\n", next.name), ExitStatus::unfinished};
  }
  CaseProgress progress(bar, index);
  const Result result = solve(next.asked.problem, &progress);
  if (result.ending != Ending::finished) {
    return {"", unfinished_text(next.name, result), ExitStatus::unfinished};
  }
  const Verdict verdict = judge(next.asked.problem, result);
  return {fmt::format("{}\n{}", next.name, cell_side_text(verdict)), "", cell_status(verdict)};
}

}  // namespace

ExitStatus check(const CaseOptions& options) {
  const std::vector<AskedCase> cases = read_cases(options.cases, options.settings);
  require_cells(cases);
  listen_for_stop();
  ProgressBar bar(cases.size(), options.quiet);
  return side_by_side(
      cases.size(), [&](std::size_t index) { return checked(cases[index], bar, index); },
      [&](std::size_t, const Answer& answer) {
        bar.print(stdout, answer.out);
        bar.print(stderr, answer.error);
      });
}

}  // namespace tabmelt::command
