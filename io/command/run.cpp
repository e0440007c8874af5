#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "io/command/asked_cases.h"
#include "io/command/commands.h"
#include "io/command/console_report.h"
#include "io/command/drawing.h"
#include "io/command/fan_out.h"
#include "io/command/progress.h"
#include "io/command/side_by_side.h"
#include "io/command/stop_signal.h"
#include "io/command/studies/study_options.h"
#include "io/store/result_writer.h"
#include "solver/solve.h"
#include "solver/study/crown.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

// A single case keeps -o as it is; several get a folder each inside it.
fs::path result_folder(const std::string& case_name, const RunOptions& options) {
  const fs::path top = options.folder.value_or("results");
  return options.folder && options.cases.size() == 1 ? top : top / case_name;
}

// Told before anything is computed; ResultWriter has the last word.
void refuse_earlier_results(const std::vector<AskedCase>& cases, const RunOptions& options) {
  std::vector<Complaint> complaints;
  for (const AskedCase& next : cases) {
    const fs::path folder = result_folder(next.name, options);
    std::error_code ignored;
    if (!fs::exists(folder / "result.vtkhdf", ignored)) continue;
    complaints.push_back({"", 0, "",
                          fmt::format("{} already holds results; choose another folder or remove "
                                      "them",
                                      folder.string())});
  }
  if (!complaints.empty()) throw InputError(std::move(complaints));
}

std::string learnt_text_of(const Learnt& learnt) {
  if (learnt.file.empty()) return "";
  return fmt::format("  with {} learnt values from {}: {}\n", learnt.values.size(), learnt.file,
                     learnt.about);
}

// `good`: what the verdict says.
Answer computed(const AskedCase& next, const fs::path& folder, ProgressBar& bar, std::size_t index,
                char& good) {
  if (stop_requested()) {
    return {"", fmt::format("{}: not started\n", next.name), ExitStatus::unfinished};
  }
  ResultWriter writer(folder, next.asked);
  CaseProgress progress(bar, index);
  StopWhenAsked stop;
  FanOut watchers({&writer, &progress, &stop});

  const Problem& problem = next.asked.problem;
  const Result result = solve(problem, &watchers);
  Verdict verdict = judge(problem, result);
  if (result.ending == Ending::finished)
    if (const auto warning = crown_warning(problem)) verdict.sentence += " " + *warning;
  good = verdict.good ? 1 : 0;
  const fs::path file = writer.finish(result, verdict);

  if (result.ending != Ending::finished) {
    return {"",
            unfinished_text(next.name, result) +
                fmt::format("  what was computed until then is in {}\n", file.string()),
            ExitStatus::unfinished};
  }
  return {fmt::format("{}: {}\n{}{}\n{}\n{}\n{}\n  results in {}\n", next.name, next.asked.title,
                      learnt_text_of(next.asked.learnt), verdict_text(verdict),
                      key_figures_text(problem, result), ledger_text(problem, result),
                      cell_side_text(verdict), folder.string()),
          "", ExitStatus::fine};
}

void draw_pictures(const RunOptions& options, const std::vector<fs::path>& folders,
                   ProgressBar& bar) {
  if (!options.pictures || folders.empty() || stop_requested()) return;
  const std::string reason = reason_not_to_draw();
  if (!reason.empty()) return bar.print(stdout, fmt::format("  no pictures: {}\n", reason));
  for (const fs::path& folder : folders) {
    const std::vector<fs::path> drawn = draw_result(folder / "result.vtkhdf", folder);
    put_into_report(folder, drawn);
    bar.print(stdout, fmt::format("  {} pictures in {}\n", drawn.size(), folder.string()));
  }
}

// Looks for a way to a good weld for each case that is none; one case after the other.
ExitStatus advised(const RunOptions& options, const std::vector<char>& good) {
  ExitStatus worst = ExitStatus::fine;
  for (std::size_t n = 0; n < good.size(); ++n) {
    if (good[n] != 0) continue;
    AdviseOptions advice;
    advice.study.asked = options.cases[n];
    advice.study.settings = options.settings;
    advice.study.quiet = options.quiet;
    std::fputs("\n", stdout);
    worst = std::max(worst, advise(advice));
  }
  return worst;
}

}  // namespace

ExitStatus run(const RunOptions& options) {
  const std::vector<AskedCase> cases = read_cases(options.cases, options.settings);
  refuse_earlier_results(cases, options);
  listen_for_stop();
  ProgressBar bar(cases.size(), options.quiet);
  std::vector<fs::path> to_draw;
  std::vector<char> good(cases.size(), 1);

  const ExitStatus status = side_by_side(
      cases.size(),
      [&](std::size_t index) {
        const AskedCase& next = cases[index];
        return computed(next, result_folder(next.name, options), bar, index, good[index]);
      },
      [&](std::size_t index, const Answer& answer) {
        bar.print(stdout, (to_draw.empty() || answer.out.empty() ? "" : "\n") + answer.out);
        bar.print(stderr, answer.error);
        if (!answer.out.empty()) to_draw.push_back(result_folder(cases[index].name, options));
      });

  draw_pictures(options, to_draw, bar);
  if (!options.advise || stop_requested()) return status;
  return std::max(status, advised(options, good));
}

}  // namespace tabmelt
