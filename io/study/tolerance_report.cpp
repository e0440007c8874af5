#include "io/study/tolerance_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/study/study_words.h"
#include "solver/study/judged_run.h"
#include "solver/words/in_words.h"

namespace tabmelt {

using namespace report;
namespace {

using study::Window;
using study::WindowEdge;

Section verdict_section(const ToleranceStudy& s) {
  Table verdicts({{"what becomes of the weld"}, {"chance", Align::right}});
  for (const auto& [key, chance] : s.answer.verdicts)
    verdicts.add_row({region_words(key), chance_words(chance)});
  if (s.answer.failed > 0) {
    verdicts.add_row(
        {"could not be computed", fmt::format("{} of {} runs", s.answer.failed, s.answer.asked)});
  }
  Table limits({{"passes the limit of"}, {"chance", Align::right}});
  for (const auto& [key, chance] : s.answer.limits)
    if (key != "fused" && chance.count > 0)
      limits.add_row({region_words(key), chance_words(chance)});
  return {"verdicts",
          "What becomes of it",
          {std::move(verdicts), table_or(std::move(limits), "No limit was passed in any run.")}};
}

// Inputs of one limit, and how many others cannot be told from none.
Table deciding_table(const ToleranceStudy& s, const study::Deciding& deciding) {
  Table table({{"input"},
               {"spread"},
               {"share", Align::right},
               {"+-", Align::right},
               {"more of it"},
               {"good if it lies in its middle half", Align::right},
               {"in its lowest quarter", Align::right},
               {"in its highest", Align::right}});
  for (const std::size_t i : by_influence(deciding.of)) {
    const study::Index& index = deciding.of.first_order[i];
    if (!stands_out(index)) continue;
    const study::Knowing& k = s.answer.knowing[i];
    table.add_row({s.inputs[i].key, s.inputs[i].text, share_words(index.value),
                   share_words(index.deviation), index.slope > 0 ? "helps" : "harms",
                   chance_words(k.middle), share_words(k.below.value), share_words(k.above.value)});
  }
  return table;
}

Section deciding_section(const ToleranceStudy& s) {
  Section section{"deciding", "Which inputs decide", {}};
  if (s.answer.computed < 4 * s.inputs.size()) {
    section.blocks.emplace_back(
        Prose(fmt::format("Too few runs to tell: {} inputs take at least {}.", s.inputs.size(),
                          4 * s.inputs.size())));
    return section;
  }
  section.blocks.emplace_back(Prose(
      "For each limit that was passed, or the nearest one: the share of the variance of its "
      "margin's rank that each input explains alone (first-order index, fitted to the runs in "
      "cosines of each input's probability; Plischke 2010), +- one standard deviation; inputs "
      "that cannot be told from none are left out. The last three columns say what knowing "
      "the input better would buy: the chance of a good weld among the runs in which it lay "
      "there."));
  for (const study::Deciding& deciding : s.answer.deciding) {
    section.blocks.emplace_back(Prose(
        {{region_words(deciding.limit), Tone::strong},
         {fmt::format(", {} of the runs; what inputs do only together, and what the fit leaves: {}",
                      share_words(deciding.passed.value),
                      share_words(std::clamp(deciding.of.together, 0.0, 1.0)))}}));
    section.blocks.push_back(table_or(deciding_table(s, deciding), "No single input stands out."));
  }
  return section;
}

std::string edge_words(const Knob& knob, const WindowEdge& edge, const char* open) {
  return edge.open ? open + (" " + knob.words(edge.good))
                   : fmt::format("{} ({} at {})", knob.words(edge.good), region_words(edge.verdict),
                                 knob.words(edge.bad));
}

Section window_section(const ToleranceStudy& s) {
  Section section{"windows", "How far one of them may drift, the others held", {}};
  if (!s.nominal.good) {
    section.blocks.emplace_back(
        Prose("The case as it stands is not a good weld, so there is no window around it; "
              "`tabmelt advise` looks for the way to one."));
    return section;
  }
  Table table({{"key"}, {"value", Align::right}, {"good from"}, {"good to"}});
  for (std::size_t i = 0; i < s.windows.size(); ++i) {
    const Window& w = s.windows[i];
    if (!w.known || (w.below.open && w.above.open)) continue;
    table.add_row({s.knobs[i].key, s.knobs[i].words(s.knobs[i].value),
                   edge_words(s.knobs[i], w.below, "below"),
                   edge_words(s.knobs[i], w.above, "beyond")});
  }
  section.blocks.emplace_back(
      Prose("Found by halving between half and twice the value; a gap inside a window that no "
            "trial met is not seen. Keys that are not listed stay good over all of that range."));
  if (!table.empty()) section.blocks.emplace_back(std::move(table));
  return section;
}

Section quantity_section(const ToleranceStudy& s) {
  Table table({{"quantity"},
               {"one in ten below", Align::right},
               {"median", Align::right},
               {"one in ten above", Align::right}});
  for (std::size_t q = 0; q < s.answer.median.size(); ++q) {
    const StudiedQuantity& quantity = studied_quantities()[q];
    table.add_row({quantity.words, in_words::quantity(s.answer.lowest_tenth[q], quantity.unit),
                   in_words::quantity(s.answer.median[q], quantity.unit),
                   in_words::quantity(s.answer.highest_tenth[q], quantity.unit)});
  }
  return {"quantities", "How much it scatters", {std::move(table)}};
}

Section input_section(const ToleranceStudy& s) {
  Table table({{"key"}, {"value", Align::right}, {"spread"}, {"why"}});
  for (std::size_t i = 0; i < s.inputs.size(); ++i) {
    std::string spread = s.inputs[i].text;
    if (const double cut = s.inputs[i].distribution.cut_off(); cut > 1e-3)
      spread += fmt::format(", {} of it beyond what is possible and cut off", share_words(cut));
    table.add_row(
        {s.inputs[i].key, s.knobs[i].words(s.inputs[i].value), spread, s.inputs[i].reason});
  }
  return {"inputs", "What was taken as uncertain", {std::move(table)}};
}

}  // namespace

study::KnobRange window_range(const UncertainKey& input) {
  study::KnobRange range;
  range.start = input.value;
  const bool ratio = input.value > 0 && input.address.unit() != "degC";
  range.by_ratio = ratio;
  range.low = ratio ? input.value / 2 : input.distribution.quantile(1e-3);
  range.high = ratio ? input.value * 2 : input.distribution.quantile(1 - 1e-3);
  range.low = std::min(std::max(range.low, input.address.lowest()), input.value);
  range.high = std::max(std::min(range.high, input.address.highest()), input.value);
  return range;
}

bool stands_out(const study::Index& index) {
  return index.value > 0.01 && index.value > 2 * index.deviation;
}

std::vector<std::size_t> by_influence(const study::Sensitivity& sensitivity) {
  std::vector<double> shares;
  for (const study::Index& index : sensitivity.first_order) shares.push_back(index.value);
  return largest_first(shares);
}

std::vector<std::size_t> by_influence(const study::Tolerance& t) {
  std::vector<double> most(t.knowing.size());
  for (const study::Deciding& deciding : t.deciding)
    for (std::size_t i = 0; i < most.size(); ++i)
      most[i] = std::max(most[i], deciding.of.first_order[i].value);
  return largest_first(most);
}

std::string tolerance_sentence(const ToleranceStudy& s) {
  if (s.answer.asked == s.answer.failed || s.answer.computed == 0)
    return "Nothing could be said: no run was computed.";
  std::string text = fmt::format(
      "Chance of a good weld {} (95 % confidence: {:.0f} to {:.0f} %), from {} runs over {} "
      "uncertain numbers.",
      share_words(s.answer.good.value), 100 * s.answer.good.low, 100 * s.answer.good.high,
      s.answer.computed, s.inputs.size());
  if (s.answer.failed > 0)
    text += fmt::format(
        " {} more could not be computed; the interval holds whichever way they would have gone.",
        s.answer.failed);
  if (!s.answer.complete) text += " The study was stopped before its end.";
  return text;
}

Document tolerance_report(const ToleranceStudy& s) {
  Document document;
  document.title = s.title + ": how sure is it?";
  document.good = s.answer.good.value >= 0.9;
  document.outcome = share_words(s.answer.good.value);
  document.sentence = tolerance_sentence(s);
  document.notes.emplace_back(fmt::format(
      "The case as it stands: {}, least margin {}. Draws: Sobol sequence with a fixed digital "
      "shift; interval of Clopper and Pearson.",
      region_words(study::region_of(s.nominal)), margin_words(s.nominal.margin)));
  document.sections = {verdict_section(s), deciding_section(s)};
  if (!s.windows.empty()) document.sections.push_back(window_section(s));
  document.sections.push_back(quantity_section(s));
  document.sections.push_back(input_section(s));
  return document;
}

}  // namespace tabmelt
