#include "io/study/design_report.h"

#include <fmt/format.h>

#include <map>

#include "io/study/study_words.h"

namespace tabmelt {

using namespace report;
namespace {

std::string settings(const DesignStudy& s, bool as_options) {
  std::string text;
  for (std::size_t k = 0; k < s.spans.size() && k < s.answer.best.size(); ++k) {
    const Knob& knob = s.spans[k].knob;
    if (as_options)
      text += fmt::format(" --set {}=\"{}\"", knob.key, knob.at(s.answer.best[k]).value);
    else
      text += fmt::format("{}{} {}", k > 0 ? ", " : "", knob.key, knob.words(s.answer.best[k]));
  }
  return text;
}

Section settings_section(const DesignStudy& s) {
  Table table({{"key"}, {"best", Align::right}, {"from"}, {"to"}, {"note"}});
  for (std::size_t k = 0; k < s.spans.size() && k < s.answer.best.size(); ++k) {
    const KnobSpan& span = s.spans[k];
    const double width = span.to - span.from, at = s.answer.best[k];
    const bool low = at - span.from < 0.01 * width, high = span.to - at < 0.01 * width;
    table.add_row({span.knob.key, span.knob.words(at), span.knob.words(span.from),
                   span.knob.words(span.to), low || high ? "at the end of its range" : ""});
  }
  Section section{"settings", s.answer.found ? "The set-up" : "Nearest to it", {}};
  section.blocks.emplace_back(std::move(table));
  if (s.answer.found)
    section.blocks.emplace_back(CommandLine{"tabmelt run CASE" + settings(s, true)});
  return section;
}

// Which limits the draws passed, most often first.
Section limits_section(const DesignStudy& s) {
  std::map<std::string, std::size_t> counts;
  for (const study::Judged& run : s.confirmed.runs)
    if (run.state == study::State::computed && !run.good) ++counts[run.verdict];
  Table table({{"what the others become"}, {"of all draws", Align::right}});
  for (const auto& [key, count] : counts)
    table.add_row({region_words(key), share_words(static_cast<double>(count) /
                                                  static_cast<double>(s.confirmed.runs.size()))});
  return {"limits",
          "What keeps it from more",
          {table_or(std::move(table), "Every draw is a good weld.")}};
}

}  // namespace

std::string design_sentence(const DesignStudy& s) {
  if (s.answer.best.empty()) return "The study was stopped before anything was tried.";
  const std::string chance = chance_words(s.confirmed.good);
  if (s.answer.found)
    return fmt::format("Least {} = {:.4g}: {}; chance of a good weld {}.", s.expression,
                       s.answer.trial.cost, settings(s, false), chance);
  return fmt::format(
      "None: no set-up within the ranges that was tried is good with a chance of {}; "
      "nearest to it {}, chance {}.",
      share_words(s.wanted), settings(s, false), chance);
}

Document design_report(const DesignStudy& s) {
  Document document;
  document.title = s.title + ": what to build?";
  document.good = s.answer.found;
  document.outcome = s.answer.found ? "found" : "none";
  document.sentence = design_sentence(s);
  document.notes.emplace_back(fmt::format(
      "Wanted: {} at its least, with a chance of at least {}. {} set-ups tried{}; the chance of "
      "the last one is from {} draws.",
      s.expression, share_words(s.wanted), s.answer.trials,
      s.answer.complete ? "" : " before the study was stopped", s.confirmed.good.trials));
  if (!s.answer.best.empty()) document.sections = {settings_section(s), limits_section(s)};
  return document;
}

}  // namespace tabmelt
