#include "io/study/advice_report.h"

#include <fmt/format.h>

#include <cmath>

#include "io/study/study_words.h"

namespace tabmelt {

using namespace report;
namespace {

using study::Remedy;

std::string change_words(const AdviceStudy& s, const Remedy& r, const study::Point& to) {
  std::string text;
  for (const std::size_t k : r.knobs) {
    const Knob& knob = s.knobs[k].knob;
    text += fmt::format("{}{} {} instead of {}", text.empty() ? "" : ", ", s.knobs[k].words,
                        knob.words(to[k]), knob.words(knob.value));
  }
  return text;
}

std::string settings_words(const AdviceStudy& s, const Remedy& r) {
  std::string text;
  for (const std::size_t k : r.knobs) {
    const Override set = s.knobs[k].knob.at(r.aim[k]);
    text += fmt::format("{}--set {}=\"{}\"", text.empty() ? "" : " ", set.key, set.value);
  }
  return text;
}

Section remedies_section(const AdviceStudy& s) {
  Table table({{"smallest change"},
               {"doublings", Align::right},
               {"margin", Align::right},
               {"better: the middle of what is good"},
               {"margin", Align::right},
               {"chance", Align::right}});
  const auto offered = s.offered();
  for (std::size_t n = 0; n < offered.size(); ++n) {
    const Remedy& r = *offered[n];
    table.add_row({change_words(s, r, r.least), fmt::format("{:.2f}", r.size),
                   margin_words(r.run.margin), change_words(s, r, r.aim),
                   margin_words(r.aim_run.margin),
                   n < s.chances.size() ? chance_words(s.chances[n]) : "-"});
  }
  Section section{"advice", "What helps, found by running it", {}};
  section.blocks.emplace_back(std::move(table));
  if (!offered.empty())
    section.blocks.emplace_back(CommandLine{"tabmelt run CASE " + settings_words(s, *offered[0])});
  return section;
}

std::string best_words(const AdviceStudy& s) {
  std::string text;
  for (std::size_t k = 0; k < s.knobs.size(); ++k) {
    const Knob& knob = s.knobs[k].knob;
    if (s.advice.best[k] == knob.value) continue;
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", s.knobs[k].words,
                        knob.words(s.advice.best[k]));
  }
  return text.empty() ? "the case as it stands" : text;
}

std::string exclusion_words(const study::Exclusion& e) {
  if (!e.best_second)
    return fmt::format("No run kept the limit of {}; the nearest missed it by {}.",
                       region_words(e.first), margin_words(*e.best_first));
  std::string text =
      fmt::format("Where the limit of {} is kept, that of {} is missed by at least {}",
                  region_words(e.first), region_words(e.second), margin_words(*e.best_second));
  if (e.best_first)
    text += fmt::format("; where that of {} is kept, that of {} by {} at best",
                        region_words(e.second), region_words(e.first), margin_words(*e.best_first));
  return text + ".";
}

Section nothing_section(const AdviceStudy& s) {
  Section section{"nothing", "Nothing helps", {}};
  const double share =
      1 - std::pow(0.05, 1 / static_cast<double>(std::max<std::size_t>(1, s.advice.dense)));
  section.blocks.emplace_back(Prose(fmt::format(
      "None of {} settings spread evenly over all ranges below is a good weld: with 95 % "
      "confidence less than {:.1f} % of these ranges is.",
      s.advice.dense, 100 * share)));
  if (s.advice.exclusion) section.blocks.emplace_back(Prose(exclusion_words(*s.advice.exclusion)));
  if (!s.advice.best.empty())
    section.blocks.emplace_back(Prose(fmt::format(
        "Nearest to good: {}; {}, least margin {}.", best_words(s),
        region_words(s.advice.best_run.verdict), margin_words(s.advice.best_run.margin))));
  return section;
}

Section ranges_section(const AdviceStudy& s) {
  Table table({{"knob"}, {"key"}, {"value", Align::right}, {"tried from"}, {"to"}});
  for (const BenchKnob& one : s.knobs)
    table.add_row({one.words, one.knob.key, one.knob.words(one.knob.value),
                   one.knob.words(one.range.low), one.knob.words(one.range.high)});
  return {"ranges", "What was tried", {std::move(table)}};
}

}  // namespace

std::vector<const Remedy*> AdviceStudy::offered() const {
  std::vector<const Remedy*> list;
  for (const auto* some : {&advice.singles, &advice.pairs, &advice.several})
    for (const Remedy& r : *some) list.push_back(&r);
  return list;
}

std::string advice_sentence(const AdviceStudy& s) {
  if (s.advice.start.good)
    return fmt::format(
        "A good weld as it stands, least margin {}; `tabmelt tolerance` says how "
        "sure it is.",
        margin_words(s.advice.start.margin));
  const std::string start =
      fmt::format("As it stands: {}. ", region_words(study::region_of(s.advice.start)));
  const auto offered = s.offered();
  if (!offered.empty())
    return start + "Smallest change that makes it good: " +
           change_words(s, *offered[0], offered[0]->least) + ".";
  return start + (s.advice.complete
                      ? "No change that was tried makes it good."
                      : "The search was stopped before it found a change that helps.");
}

Document advice_report(const AdviceStudy& s) {
  Document document;
  document.title = s.title + ": what to change?";
  document.good = s.advice.start.good || s.advice.helps();
  document.outcome = document.good ? "a way was found" : "no way was found";
  document.sentence = advice_sentence(s);
  if (s.advice.start.good) return document;
  if (s.advice.helps())
    document.sections.push_back(remedies_section(s));
  else if (s.advice.complete)
    document.sections.push_back(nothing_section(s));
  document.sections.push_back(ranges_section(s));
  return document;
}

}  // namespace tabmelt
