#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "io/command/asked_cases.h"
#include "io/command/case_index.h"
#include "io/command/commands.h"
#include "io/command/console_report.h"
#include "io/command/drawing.h"
#include "io/command/failure.h"
#include "io/command/fan_out.h"
#include "io/command/progress.h"
#include "io/command/side_by_side.h"
#include "io/command/stop_signal.h"
#include "io/command/studies/study_options.h"
#include "io/store/result_writer.h"
#include "solver/solve.h"
#include "solver/study/crown.h"
#include "solver/study/own_error.h"

namespace tabmelt::command {
namespace {

namespace fs = std::filesystem;

// A single case keeps -o as it is; several get a folder each inside it.
fs::path result_folder(const std::string& case_name, const RunOptions& options) {
  const fs::path top = options.folder.value_or("results");
  return options.folder && options.cases.size() == 1 ? top : top / case_name;
}

std::vector<Complaint> earlier_results(const AskedCase& asked, const RunOptions& options) {
  const fs::path folder = result_folder(asked.name, options);
  std::error_code ignored;
  if (!fs::exists(folder / "result.vtkhdf", ignored)) return {};
  return {{"", 0, "",
           fmt::format("{} already holds results; choose another folder or remove them",
                       folder.string())}};
}

// What can be computed; the rest is refused before anything is. ResultWriter has the last word
// about folders.
AskedCases asked_of(const RunOptions& options) {
  AskedCases all = read_what_can_be(options.cases, options.settings);
  AskedCases sorted{{}, std::move(all.refused)};
  for (AskedCase& next : all.good) {
    std::vector<Complaint> complaints = earlier_results(next, options);
    if (complaints.empty())
      sorted.good.push_back(std::move(next));
    else
      sorted.refused.push_back({next.asked.file.string(), std::move(complaints)});
  }
  std::vector<Complaint> complaints;
  for (const RefusedCase& refused : sorted.refused)
    complaints.insert(complaints.end(), refused.complaints.begin(), refused.complaints.end());
  if (!complaints.empty() && (!options.keep_going || sorted.good.empty()))
    throw InputError(std::move(complaints));
  std::fputs(complaints_text(complaints).c_str(), stderr);
  return sorted;
}

std::string learnt_text_of(const Learnt& learnt) {
  if (learnt.file.empty()) return "";
  return fmt::format("  with {} learnt values from {}: {}\n", learnt.values.size(), learnt.file,
                     learnt.about);
}

Answer computed(const AskedCase& next, const fs::path& folder, const RunOptions& options,
                ProgressBar& bar, std::size_t index, IndexRow& row) {
  if (stop_requested()) {
    return {"", fmt::format("{}: not started\n", next.name), ExitStatus::unfinished};
  }
  ResultWriter writer(folder, next.asked, {.dated = options.date});
  CaseProgress progress(bar, index);
  FanOut watchers({&writer, &progress});

  const Problem& problem = next.asked.problem;
  Result result = solve(problem, &watchers);
  if (result.history.empty() && result.grid.cells() == 0) {
    return {"",
            fmt::format("{}: interrupted before the first step; nothing was computed\n", next.name),
            ExitStatus::unfinished};
  }
  if (!options.date) result.cpu_seconds = 0;  // left out of the files
  StopWhenAsked stop;
  if (options.estimate && result.ending == Ending::finished)
    result.own_errors = own_errors(problem, result, &stop);
  Verdict verdict = judge(problem, result);
  if (result.ending == Ending::finished)
    if (const auto warning = crown_warning(problem)) verdict.sentence += " " + *warning;
  const fs::path file = writer.finish(result, verdict);
  row = index_row(next.name, next.asked, result, verdict);

  if (result.ending != Ending::finished) {
    return {"",
            unfinished_text(next.name, result) +
                fmt::format("  what was computed until then is in {}\n", file.string()),
            ExitStatus::unfinished};
  }
  if (options.brief) return {};
  return {fmt::format("{}: {}\n{}{}\n{}\n{}\n{}\n  results in {}\n", next.name, next.asked.title,
                      learnt_text_of(next.asked.learnt), verdict_text(verdict),
                      key_figures_text(problem, result), ledger_text(problem, result),
                      cell_side_text(verdict) + own_error_text(result), folder.string()),
          "", ExitStatus::fine};
}

void draw_pictures(const RunOptions& options, const std::vector<fs::path>& folders,
                   ProgressBar& bar) {
  if (!options.pictures || folders.empty() || stop_requested()) return;
  const auto tell = [&](const std::string& text) {
    if (!options.brief) bar.print(stdout, text);
  };
  for (const fs::path& folder : folders) try {
      const std::vector<fs::path> drawn = draw_result(folder / "result.vtkhdf", folder);
      put_into_report(folder, drawn);
      tell(fmt::format("  {} pictures in {}\n", drawn.size(), folder.string()));
    } catch (const NoFontError& error) {
      return tell(fmt::format("  no pictures: {}\n", error.what()));
    }
}

// Looks for a way to a good weld for each case that is none; one case after the other.
ExitStatus advised(const RunOptions& options, const std::vector<IndexRow>& rows) {
  ExitStatus worst = ExitStatus::fine;
  for (const IndexRow& row : rows) {
    if (row.good || row.state != RowState::computed) continue;
    AdviseOptions advice;
    advice.study.asked = row.file;
    advice.study.settings = options.settings;
    advice.study.quiet = options.quiet;
    std::fputs("\n", stdout);
    worst = std::max(worst, advise(advice));
  }
  return worst;
}

// The table of all cases, and index.csv beside the results of several.
void tell_index(const AskedCases& cases, std::vector<IndexRow> rows, const RunOptions& options,
                ProgressBar& bar) {
  std::vector<const Case*> inputs;
  for (const AskedCase& one : cases.good) inputs.push_back(&one.asked);
  for (const RefusedCase& refused : cases.refused) {
    IndexRow row;
    row.name = row.file = refused.argument;
    row.state = RowState::wrong_input;
    rows.push_back(row);
    inputs.push_back(nullptr);
  }
  if (rows.size() < 2 && !options.brief) return;
  bar.print(stdout, (options.brief ? "" : "\n") + index_text(rows));
  if (rows.size() < 2) return;
  const fs::path file = write_index(options.folder.value_or("results"), index_csv(rows, inputs));
  if (!options.brief) bar.print(stdout, fmt::format("  the same in {}\n", file.string()));
}

bool all_good(const std::vector<IndexRow>& rows) {
  return std::all_of(rows.begin(), rows.end(), [](const IndexRow& row) { return row.good; });
}

}  // namespace

ExitStatus run(const RunOptions& options) {
  const AskedCases asked = asked_of(options);
  const std::vector<AskedCase>& cases = asked.good;
  listen_for_stop();
  ProgressBar bar(cases.size(), options.quiet);
  std::vector<fs::path> to_draw;
  std::vector<IndexRow> rows(cases.size());
  for (std::size_t n = 0; n < cases.size(); ++n) {
    rows[n].name = cases[n].name;
    rows[n].file = cases[n].asked.file.string();
  }

  ExitStatus status = side_by_side(
      cases.size(),
      [&](std::size_t index) {
        const AskedCase& next = cases[index];
        return computed(next, result_folder(next.name, options), options, bar, index, rows[index]);
      },
      [&](std::size_t index, const Answer& answer) {
        bar.print(stdout, (to_draw.empty() || answer.out.empty() ? "" : "\n") + answer.out);
        bar.print(stderr, answer.error);
        if (rows[index].state == RowState::computed && answer.status == ExitStatus::fine)
          to_draw.push_back(result_folder(cases[index].name, options));
      });

  draw_pictures(options, to_draw, bar);
  tell_index(asked, rows, options, bar);
  if (!asked.refused.empty()) status = std::max(status, ExitStatus::wrong_input);
  if (options.advise && !stop_requested()) status = std::max(status, advised(options, rows));
  const bool demanded = status == ExitStatus::fine && options.require_good;
  return demanded && !all_good(rows) ? ExitStatus::not_good : status;
}

}  // namespace tabmelt::command
