#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/command/asked_cases.h"
#include "io/command/commands.h"
#include "io/command/console_report.h"
#include "io/command/progress.h"
#include "io/command/side_by_side.h"
#include "io/command/stop_signal.h"
#include "solver/cost.h"
#include "solver/solve.h"
#include "solver/study/refinement.h"
#include "solver/words/in_words.h"

namespace tabmelt::command {
namespace {

// A layer that hardly warms has no relative error worth telling.
constexpr double least_rise = 1;  // [K]
constexpr std::size_t grids = refinement_factors.size();

// What is kept of a run.
struct GridRun {
  bool finished = false;
  std::vector<Figure> figures;
  double cell_size = 0;  // [1] relative
  std::size_t cells = 0;
  std::size_t steps = 0;
  double cpu_seconds = 0;
};

Answer computed(const AskedCase& next, double factor, ProgressBar& bar, std::size_t index,
                GridRun& run) {
  const std::string name =
      factor == 1 ? next.name : fmt::format("{}, grid {} x finer", next.name, factor);
  if (stop_requested()) {
    return {"", fmt::format("{}: not started\n", name), ExitStatus::unfinished};
  }
  CaseProgress progress(bar, index);
  const Problem problem = refined(next.asked.problem, factor);
  const Result result = solve(problem, &progress);
  if (result.ending != Ending::finished) {
    return {"", unfinished_text(name, result), ExitStatus::unfinished};
  }
  run = {true,
         judged_figures(problem, result),
         relative_cell_size(result),
         result.grid.cells(),
         result.history.size(),
         result.cpu_seconds};
  return {};
}

std::string difference_text(double value, const std::string& unit) {
  const std::string size = unit == "K" ? in_words::temperature_rise(std::abs(value))
                                       : in_words::quantity(std::abs(value), unit);
  return (value < 0 ? "-" : "+") + size;
}

std::string doubt(Convergence convergence) {
  switch (convergence) {
    case Convergence::slower:
      return " slow";
    case Convergence::oscillating:
      return " uneven";
    case Convergence::faster:
      return " sudden";
    case Convergence::settled:
    case Convergence::orderly:
      break;
  }
  return "";
}

std::string share_text(double share) {
  if (share < 1e-4) return "< 0.01 %";
  return share < 0.1 ? fmt::format("{:.2g} %", 100 * share) : fmt::format("{:.0f} %", 100 * share);
}

template <typename Value>
std::string run_line(const char* name, const std::vector<GridRun>& runs, Value value) {
  return fmt::format("  {:<27}{:>10}{:>10}{:>10}\n", name, value(runs[0]), value(runs[1]),
                     value(runs[2]));
}

// runs: from coarse to fine, all finished.
std::string refinement_text(const std::vector<GridRun>& runs) {
  std::string text = fmt::format("  {:<27}{:>10}{:>10}{:>10}{:>11}{:>13}{:>10}\n", "", "as asked",
                                 "1.5 x", "2.25 x", "no error", "error", "within");
  double worst = 0;
  bool doubted = false;
  std::string worst_name;
  for (std::size_t n = 0; n < runs[0].figures.size(); ++n) {
    const Figure& own = runs[0].figures[n];
    const std::array<double, 3> values{own.value, runs[1].figures[n].value,
                                       runs[2].figures[n].value};
    const Extrapolation e =
        extrapolated({runs[0].cell_size, runs[1].cell_size, runs[2].cell_size}, values);
    const double reach = std::max({std::abs(e.value - own.origin), std::abs(own.value - own.origin),
                                   own.unit == "K" ? least_rise : 0.0});
    const double share = reach > 0 ? e.band / reach : 0;
    if (share > worst) {
      worst = share;
      worst_name = own.name;
    }
    const std::string mark = share < 1e-4 ? "" : doubt(e.convergence);
    doubted |= !mark.empty();
    text += fmt::format(
        "  {:<27.26}{:>10}{:>10}{:>10}{:>11}{:>13}{:>10}{}\n", own.name,
        in_words::quantity(values[0], own.unit), in_words::quantity(values[1], own.unit),
        in_words::quantity(values[2], own.unit), in_words::quantity(e.value, own.unit),
        difference_text(e.error, own.unit), share_text(share), mark);
  }
  text += run_line("cells", runs, [](const GridRun& run) { return run.cells; });
  text += run_line("time steps", runs, [](const GridRun& run) { return run.steps; });
  text += run_line("CPU seconds", runs,
                   [](const GridRun& run) { return fmt::format("{:.3f}", run.cpu_seconds); });
  text += fmt::format(
      "  With the case's own grid and steps, no figure above is believed to be off by more than\n"
      "  {}{}. Per cent of temperatures: of the\n"
      "  rise above ambient, at least of 1 K.\n",
      share_text(worst), worst_name.empty() ? "" : " (" + worst_name + ")");
  if (doubted) {
    text +=
        "  slow, uneven, sudden: the three grids do not approach one value steadily, so three\n"
        "  times the change is allowed for; a finer resolution in the case would tell more.\n";
  }
  text +=
      "  This is the error of the arithmetic only. What contacts and materials are not known to\n"
      "  is larger as a rule.\n";
  return text;
}

void require_room_for_the_finest(const std::vector<AskedCase>& cases) {
  std::vector<Complaint> complaints;
  const double finest = *std::max_element(refinement_factors.begin(), refinement_factors.end());
  for (const AskedCase& next : cases)
    for (const std::string& one : cost_complaints(refined(next.asked.problem, finest)))
      complaints.push_back({next.asked.file.string(), 0, "",
                            fmt::format("on a grid {} times finer: {}", finest, one)});
  if (!complaints.empty()) throw InputError(std::move(complaints));
}

}  // namespace

ExitStatus refine(const CaseOptions& options) {
  const std::vector<AskedCase> cases = read_cases(options.cases, options.settings);
  require_room_for_the_finest(cases);
  listen_for_stop();
  ProgressBar bar(grids * cases.size(), options.quiet);
  std::vector<std::vector<GridRun>> runs(cases.size(), std::vector<GridRun>(grids));
  bool first = true;
  return side_by_side(
      grids * cases.size(),
      [&](std::size_t index) {
        // The finest takes longest, so it starts first.
        const std::size_t level = grids - 1 - index % grids;
        const std::size_t number = index / grids;
        return computed(cases[number], refinement_factors[level], bar, index, runs[number][level]);
      },
      [&](std::size_t index, const Answer& answer) {
        bar.print(stderr, answer.error);
        const std::vector<GridRun>& of_case = runs[index / grids];
        const bool last = index % grids == grids - 1;
        if (!last || !std::all_of(of_case.begin(), of_case.end(),
                                  [](const GridRun& run) { return run.finished; })) {
          return;
        }
        const AskedCase& done = cases[index / grids];
        bar.print(stdout, fmt::format("{}{}: {}\n{}", first ? "" : "\n", done.name,
                                      done.asked.title, refinement_text(of_case)));
        first = false;
      });
}

}  // namespace tabmelt::command
