#include "io/inference/learn_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/report/utc_date.h"
#include "io/study/study_words.h"

namespace tabmelt {

using namespace report;
namespace {

using inference::Note;

constexpr double least_learnt = 0.08;
constexpr double least_surprise = 0.01;
constexpr double unlikely_note = 0.15;
constexpr std::size_t shown_next = 6;

Knob knob_at(const LearnAnswer& a, std::size_t input) { return knob_of(a.study->inputs()[input]); }

double value_at(const LearnAnswer& a, std::size_t input, double u) {
  return a.study->inputs()[input].distribution.quantile(u);
}

double quantile_after(const LearnAnswer& a, std::size_t input, double share) {
  std::vector<double> u;
  for (const auto& point : a.found.posterior.points) u.push_back(point[input]);
  return value_at(a, input, inference::weighted_quantile(u, a.found.posterior.weight, share));
}

std::string range_words(const Knob& knob, const Belief& b) {
  return fmt::format("{} ({} to {})", knob.words(b.middle), knob.words(b.low), knob.words(b.high));
}

std::string noted_words(const inference::Noted& noted) {
  std::string text;
  const auto add = [&](const std::string& word) { text += (text.empty() ? "" : ", ") + word; };
  for (std::size_t n = 0; n < inference::notes; ++n) {
    if (!noted.yes[n]) continue;
    const auto note = static_cast<Note>(n);
    if (note == Note::button)
      add(*noted.yes[n] ? "button" : "clean peel");
    else if (note == Note::held)
      add(*noted.yes[n] ? "held" : "did not hold");
    else
      add((*noted.yes[n] ? "" : "no ") + words(note));
  }
  if (noted.peel_force) add(fmt::format("{:.3g} N", *noted.peel_force));
  return text;
}

// How many notes there are, so that the chance of each can be told.
double note_count(const inference::Noted& noted) {
  double count = 0;
  for (const auto& yes : noted.yes) count += yes ? 1 : 0;
  return count;
}

bool is_odd(const LearnAnswer& a, std::size_t weld) {
  const inference::Noted& noted = a.study->table().welds[weld].noted;
  const double count = note_count(noted);
  return count > 0 && !noted.peel_force &&
         a.found.explained[weld] < unlikely_note * std::pow(0.7, count - 1);
}

Section unknown_section(const LearnAnswer& a) {
  Table table(
      {{"key"}, {"before: median (19 of 20 above, below)"}, {"now"}, {"learnt", Align::right}});
  std::size_t more = 0;
  for (const std::size_t i : by_learning(a)) {
    if (!stands_out(a, i)) {
      ++more;
      continue;
    }
    const Knob knob = knob_at(a, i);
    table.add_row({knob.key, range_words(knob, before(a, i)), range_words(knob, after(a, i)),
                   share_words(learnt_share(a, i))});
  }
  Section section{"unknowns", "What is now believed", {}};
  if (!table.empty()) section.blocks.emplace_back(std::move(table));
  section.blocks.emplace_back(Prose(
      fmt::format("{} other unknowns are believed as before. Ranges hold nine of ten.", more)));
  return section;
}

Section chance_section(const LearnAnswer& a) {
  Table table({{"setting"}, {"before"}, {"now"}});
  for (const BeforeAndAfter& one : a.found.chances)
    table.add_row({setting_words(a.study->knobs(), one.setting), chance_words(one.before),
                   chance_words(one.after)});
  return {"chances", "Chance of a good weld", {std::move(table)}};
}

Section weld_section(const LearnAnswer& a) {
  Table table(
      {{"line", Align::right}, {"setting"}, {"noted"}, {"chance of just this", Align::right}});
  for (std::size_t w = 0; w < a.study->table().welds.size(); ++w) {
    const TestWeld& weld = a.study->table().welds[w];
    table.add_row({fmt::format("{}", weld.line), setting_words(a.study->knobs(), weld.settings),
                   noted_words(weld.noted),
                   weld.noted.peel_force
                       ? std::string("-")
                       : share_words(a.found.explained[w]) + (is_odd(a, w) ? ", odd" : "")});
  }
  Section section{"welds", "The test welds", {std::move(table)}};
  const std::vector<std::string>& notes = a.study->table().notes;
  if (!notes.empty()) section.blocks.emplace_back(Bullets{{notes.begin(), notes.end()}});
  return section;
}

Section next_section(const LearnAnswer& a) {
  Table table({{"setting"},
               {"tells, bit", Align::right},
               {"holds", Align::right},
               {"button", Align::right},
               {"sparks", Align::right},
               {"tip sticks", Align::right},
               {"hole", Align::right}});
  for (std::size_t n = 0; n < std::min(shown_next, a.found.next.size()); ++n) {
    const NextWeld& next = a.found.next[n];
    std::vector<Prose> row{setting_words(a.study->knobs(), next.setting),
                           fmt::format("{:.2f}", next.information)};
    for (const double yes : next.yes) row.emplace_back(share_words(yes));
    table.add_row(std::move(row));
  }
  return {
      "next",
      "Which test weld to make next",
      {Prose("The first one tells most. The other columns say what is likely to come out; scatter "
             "of single welds and wrong notes are in them."),
       std::move(table)}};
}

}  // namespace

Belief before(const LearnAnswer& a, std::size_t i) {
  return {value_at(a, i, 0.05), value_at(a, i, 0.5), value_at(a, i, 0.95)};
}

Belief after(const LearnAnswer& a, std::size_t i) {
  return {quantile_after(a, i, 0.05), quantile_after(a, i, 0.5), quantile_after(a, i, 0.95)};
}

double learnt_share(const LearnAnswer& a, std::size_t i) {
  const inference::Moments m = inference::moments(a.found.posterior, i);
  return std::clamp(1 - m.deviation, 0.0, 1.0);
}

std::vector<std::size_t> by_learning(const LearnAnswer& a) {
  std::vector<double> size;
  for (std::size_t i = 0; i < a.study->inputs().size(); ++i) {
    const inference::Moments m = inference::moments(a.found.posterior, i);
    size.push_back(std::abs(m.mean) + std::max(0.0, 1 - m.deviation));
  }
  return largest_first(size);
}

// More than the draws scatter by themselves.
bool stands_out(const LearnAnswer& a, std::size_t i) {
  const inference::Moments m = inference::moments(a.found.posterior, i);
  const double scatter = 1 / std::sqrt(std::max(a.found.posterior.effective, 1.0));
  return std::abs(m.mean) > std::max(2.5 * scatter, 0.25) ||
         1 - m.deviation > std::max(2 * scatter, least_learnt);
}

bool is_thin(const LearnAnswer& a) { return a.found.posterior.effective < 30; }

std::string learn_sentence(const LearnAnswer& a) {
  if (a.found.posterior.points.empty() || a.found.explained.empty())
    return "Nothing was learnt: the study was stopped before its end.";
  const std::size_t welds = a.study->table().welds.size();
  std::size_t told = 0;
  for (std::size_t i = 0; i < a.study->inputs().size(); ++i) told += stands_out(a, i) ? 1 : 0;
  std::string text = fmt::format("{} test weld{} tell something about {} of {} unknowns", welds,
                                 welds == 1 ? "" : "s", told, a.study->inputs().size());
  if (!a.found.next.empty())
    text += fmt::format("; next, try {}",
                        setting_words(a.study->knobs(), a.found.next.front().setting));
  text += ".";
  if (a.found.surprise < least_surprise)
    text = "The notes CONTRADICT the model. Taken for what they are: " + text;
  return text;
}

std::vector<std::string> learn_remarks(const LearnAnswer& a) {
  std::vector<std::string> list;
  if (a.found.explained.empty()) return list;
  if (a.found.surprise < least_surprise)
    list.push_back(fmt::format(
        "Whatever the unknowns are within their spreads, notes as unlikely as these come out of "
        "the "
        "model in {} of all cases: the notes contradict it. A note may be wrong, a spread too "
        "narrow, or something of this bench is not in the case.",
        a.found.surprise > 0 ? share_words(a.found.surprise) : std::string("< 0.1 %")));
  for (const Disagreement& d : disagreements(a.study->table()))
    list.push_back(fmt::format(
        "Lines {} and {} contradict each other: the same setting, opposite notes of \"{}\". Both "
        "count, as the scatter of single welds.",
        d.one, d.other, d.about));
  std::string odd;
  for (std::size_t w = 0; w < a.found.explained.size(); ++w)
    if (is_odd(a, w))
      odd += (odd.empty() ? "" : ", ") + std::to_string(a.study->table().welds[w].line);
  if (!odd.empty())
    list.push_back("Hard to explain beside the others, look at them again: line " + odd + ".");
  const inference::Posterior& p = a.found.posterior;
  list.push_back(fmt::format(
      "{} draws in {} round{}; {:.0f} of them carry the weight ({:.0f} of the first round "
      "alone).{}",
      p.points.size(), p.rounds, p.rounds == 1 ? "" : "s", p.effective, p.effective_at_first,
      is_thin(a) ? " That is THIN: take the numbers below as rough, or raise --draws." : ""));
  if (a.found.failed > 0)
    list.push_back(
        fmt::format("{} runs could not be computed; they say nothing either way.", a.found.failed));
  return list;
}

Document learn_report(const LearnAnswer& a) {
  Document document;
  document.title = a.title + ": what the test welds say";
  document.good = a.found.complete && a.found.surprise >= least_surprise && !is_thin(a);
  document.outcome = a.found.surprise < least_surprise ? "contradicted" : "learnt";
  document.sentence = learn_sentence(a);
  if (a.found.explained.empty()) return document;
  const std::vector<std::string> remarks = learn_remarks(a);
  document.notes.assign(remarks.begin(), remarks.end());
  document.sections = {unknown_section(a), chance_section(a)};
  if (!a.found.next.empty()) document.sections.push_back(next_section(a));
  document.sections.push_back(weld_section(a));
  return document;
}

std::string learn_csv(const LearnAnswer& a) {
  std::vector<std::string> head;
  std::vector<Knob> knobs;
  for (const UncertainKey& input : a.study->inputs()) {
    knobs.push_back(knob_of(input));
    head.push_back(fmt::format("{} [{}]", input.key, knobs.back().unit()));
  }
  head.insert(head.end(), {"log-likelihood [1]", "weight [1]"});
  std::string text = csv_line(head);
  const inference::Posterior& p = a.found.posterior;
  for (std::size_t n = 0; n < p.points.size(); ++n) {
    std::vector<std::string> cells;
    for (std::size_t i = 0; i < knobs.size(); ++i)
      cells.push_back(fmt::format("{:.9g}", knobs[i].in_unit(value_at(a, i, p.points[n][i]))));
    cells.push_back(fmt::format("{:.6g}", p.log_likelihood[n]));
    cells.push_back(fmt::format("{:.6g}", p.weight[n]));
    text += csv_line(cells);
  }
  return text;
}

Learnt learning_as_learnt(const LearnAnswer& a) {
  Learnt learnt;
  learnt.about = fmt::format("learnt from {} test welds in {} on {}", a.study->table().welds.size(),
                             a.study->table().file.filename().string(), utc_date());
  if (a.found.surprise < least_surprise) learnt.about += ", which contradict the model";
  const inference::Posterior& p = a.found.posterior;
  for (const std::size_t i : by_learning(a)) {
    if (!stands_out(a, i)) continue;
    const UncertainKey& input = a.study->inputs()[i];
    const Knob knob = knob_of(input);
    const bool skewed = input.distribution.name() == "log-normal";
    double mean = 0, square = 0;
    for (std::size_t n = 0; n < p.points.size(); ++n) {
      const double value = value_at(a, i, p.points[n][i]);
      mean += p.weight[n] * (skewed ? std::log(value) : value);
    }
    for (std::size_t n = 0; n < p.points.size(); ++n) {
      const double value = value_at(a, i, p.points[n][i]);
      square += p.weight[n] * std::pow((skewed ? std::log(value) : value) - mean, 2);
    }
    const double deviation = std::sqrt(square), middle = skewed ? std::exp(mean) : mean;
    const std::string spread = skewed ? fmt::format("log-normal {:.4g}", std::exp(deviation))
                                      : "normal " + knob.difference_words(deviation, 4);
    learnt.values.push_back({input.key, knob.at(middle).value, spread, 0});
  }
  return learnt;
}

}  // namespace tabmelt
