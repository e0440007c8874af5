#include "io/command/console_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "io/report/bench_warnings.h"
#include "io/report/cell_side.h"
#include "io/report/grid_section.h"
#include "io/report/landing_words.h"
#include "solver/catalogue/catalogue.h"
#include "solver/catalogue/stack_names.h"
#include "solver/words/in_words.h"

namespace tabmelt::command {

using namespace report;
namespace {

constexpr std::size_t columns = 100;

// Breaks between words so that no line is wider than the terminal; each line is indented.
std::string wrapped(const std::string& text, std::size_t indent) {
  std::string result, line;
  std::istringstream rest(text);
  for (std::string word; rest >> word;) {
    if (!line.empty() && indent + line.size() + 1 + word.size() > columns) {
      result += std::string(indent, ' ') + line + "\n";
      line.clear();
    }
    line += (line.empty() ? "" : " ") + word;
  }
  return line.empty() ? result : result + std::string(indent, ' ') + line + "\n";
}

}  // namespace

std::string verdict_text(const Verdict& verdict) {
  std::string text = wrapped(
      fmt::format("{}: {}", verdict.good ? "GOOD WELD" : "NOT A GOOD WELD", verdict.sentence), 0);
  if (verdict.nugget_diameter > 0) {
    text += fmt::format(
        "  nugget {}, a good one {}; one spot holds about {} in shear, {} in peel\n",
        in_words::length(verdict.nugget_diameter), in_words::length(verdict.smallest_good_nugget),
        in_words::force(verdict.shear_strength), in_words::force(verdict.peel_strength));
  } else {
    text += fmt::format("  no nugget; a good one has {}\n",
                        in_words::length(verdict.smallest_good_nugget));
  }
  if (verdict.findings.empty()) return text;

  std::size_t width = 10;
  for (const Finding& finding : verdict.findings)
    width = std::max(width, finding.quantity.size() + 2);
  text += fmt::format("\n  {:<30}{:<{}}{:>11}{:>10}{:>9}\n", "finding", "decided by", width,
                      "value", "limit", "margin");
  for (const Finding& finding : verdict.findings)
    text += fmt::format("  {:<4}{:<26}{:<{}}{:>11}{:>10}{:>9}\n", finding.holds ? "YES" : "no",
                        words(finding.outcome), finding.quantity, width,
                        in_words::quantity(finding.value, finding.unit),
                        in_words::quantity(finding.limit, finding.unit),
                        in_words::margin(finding.margin));
  text += wrapped(if_limits_were_lower(verdict), 2);
  // The sentence holds the advice on the leading finding already.
  for (const Finding& finding : verdict.findings) {
    if (!finding.holds || finding.outcome == verdict.leading || finding.outcome == Outcome::fused)
      continue;
    text += wrapped(
        fmt::format("{} ({}, {}): {}", words(finding.outcome), in_words::duration(finding.time),
                    in_words::place(finding.r, finding.z), finding.advice),
        2);
  }
  return text;
}

std::string key_figures_text(const Problem& problem, const Result& result) {
  std::string text = fmt::format(
      "  peak current {} at {}; through the {} {:.0f} % of it at first, {:.0f} % on average\n",
      in_words::current(result.peak_current.value), in_words::duration(result.peak_current.time),
      problem.joints() == 1 ? "faying surface" : "lowest joint", 100 * result.base_share_start,
      100 * result.base_share_mean);
  text += landing_text(problem, result);
  const StackNames names(result.parts);
  std::string hottest = "hottest: electrode face " + in_words::temperature(result.peak_tip.value);
  for (std::size_t n = 0; n < result.sheets.size(); ++n) {
    if (n > 0)
      hottest += fmt::format(", {} {}", joint_name(problem, n - 1),
                             in_words::temperature(result.joints[n - 1].peak.value));
    hottest += fmt::format(", {} {}", names.sheets[n].words,
                           in_words::temperature(hottest_of_sheet(result, n).value));
  }
  text += wrapped(hottest, 2);
  for (const std::string& warning : bench_warnings(problem, bench_figures(problem, result)))
    text += wrapped("WARNING: " + warning, 2);
  return text;
}

std::string ledger_text(const Problem& problem, const Result& result) {
  const Ledger& ledger = result.ledger;
  std::string text =
      fmt::format("  energy: {} from the source", in_words::energy(ledger.from_source));
  if (ledger.stored_before > 0) {
    const bool emptied = ledger.left_in_source < 1e-5 * ledger.stored_before;
    text += fmt::format(" ({} in the bank before, {} left)", in_words::energy(ledger.stored_before),
                        emptied ? "nothing" : in_words::energy(ledger.left_in_source));
  }
  text += problem.arrangement.spots == 2 ? ", both spots\n" : ", one spot\n";
  for (const Quantity& line : ledger_sinks(result.parts, ledger)) {
    if (std::abs(line.value) < 1e-5 * ledger.from_source) continue;
    text += fmt::format("    {:<46}{:>9.3f} J{:>7.1f} %\n", in_words::capitalised(line.words),
                        line.value, 100 * line.value / ledger.from_source);
  }
  return text;
}

std::string cell_side_text(const Verdict& verdict) {
  if (!verdict.cell_judged && verdict.cell_safe) {
    return "  inside of the cell: not judged, the case protects no cell\n";
  }
  std::string text = wrapped("inside of the cell: " + cell_side_words(verdict), 2);
  std::size_t names = 20;
  for (const LayerRecord& layer : verdict.cell_side) names = std::max(names, layer.name.size() + 1);
  text += fmt::format("    {:<{}}{:>8}{:>10}{:>16}{:>11}{:>15}\n", "hottest point of", names,
                      "peak", "at", "limit", "time above", "SEI lost");
  for (const LayerRecord& layer : verdict.cell_side) {
    const bool limited = is_judged(layer);
    text += fmt::format("    {:<{}}{:>8}{:>10}{:>16}{:>11}{:>15}{}\n", layer.name, names,
                        in_words::temperature(layer.peak.value),
                        in_words::duration(layer.peak.time), limit_text(layer),
                        layer.limit > 0 ? in_words::duration(layer.time_above_limit) : "-",
                        damage_text(layer), limited && !within_limits(layer) ? "  EXCEEDED" : "");
  }
  return text;
}

std::string own_error_text(const Result& result) {
  const auto sure = [](const FigureError& e) { return e.relative() <= promised_error; };
  const std::vector<FigureError>& all = result.own_errors;
  return std::all_of(all.begin(), all.end(), sure) ? "" : "\n" + wrapped(own_error_words(all), 2);
}

std::string unfinished_text(const std::string& case_name, const Result& result) {
  const double reached = result.history.empty() ? 0.0 : result.history.back().time;
  return fmt::format(
      "{}: {} {} into the weld{}{}\n", case_name,
      result.ending == Ending::failed ? "could not finish; it stopped" : "interrupted",
      in_words::duration(reached), result.ending_reason.empty() ? "" : ": ", result.ending_reason);
}

}  // namespace tabmelt::command
