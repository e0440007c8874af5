#include "io/report/landing_words.h"

#include <fmt/format.h>

#include "solver/words/in_words.h"

namespace tabmelt::report {
namespace {

std::string bounces_text(int bounces) {
  if (bounces == 0) return "never";
  return bounces == 1 ? "once" : fmt::format("{} times", bounces);
}

}  // namespace

std::vector<std::string> tip_names(const Problem& problem, const Result& run) {
  if (run.landings.size() < 2) return {problem.arrangement.spots == 1 ? "the tip" : "both tips"};
  const std::string second = "second tip", first = "first tip";
  if (problem.pressing.judged == JudgedTip::lands_second) return {second, first};
  return {first, second};
}

std::optional<Section> landing_section(const Problem& problem, const Result& run) {
  if (run.landings.empty()) return std::nullopt;
  Table table({{"Tip"},
               {"Landed before the current", Align::right},
               {"Force as it began", Align::right},
               {"Force at its peak", Align::right},
               {"Left the strip again"},
               {"Energy to its spot", Align::right},
               {"Of it as sparks", Align::right},
               {"Hottest", Align::right}});
  const std::vector<std::string> names = tip_names(problem, run);
  for (std::size_t n = 0; n < run.landings.size(); ++n) {
    const TipLanding& tip = run.landings[n];
    table.add_row({names[n] + (n == 0 && run.landings.size() > 1 ? " (judged)" : ""),
                   in_words::duration(tip.ahead), in_words::force(tip.force_at_start),
                   in_words::force(tip.force_at_peak), bounces_text(tip.bounces),
                   in_words::energy(tip.energy), in_words::energy(tip.expelled),
                   in_words::temperature(tip.hottest)});
  }
  std::string text = "No switch: the loop closes when the second tip touches.";
  if (run.landings.size() > 1)
    text +=
        " The tips land one after the other, so their spots differ. Everything else in this "
        "report is about the judged one; pressing.judged_tip chooses the other.";
  else if (problem.arrangement.spots > 1)
    text +=
        " Both tips are taken to land together, so their spots are alike; by hand one is early, "
        "see pressing.height_difference.";
  if (run.interruptions > 0)
    text += fmt::format(
        " A tip that bounced off opened the loop {}; the energy of its magnetic field, {} in all, "
        "went into the gap.",
        bounces_text(run.interruptions), in_words::energy(run.ledger.tip_lift));
  return Section{"landing", "How the tips landed", {table, Prose(text)}};
}

std::string landing_text(const Problem& problem, const Result& run) {
  std::string text;
  const std::vector<std::string> names = tip_names(problem, run);
  for (std::size_t n = 0; n < run.landings.size(); ++n) {
    const TipLanding& tip = run.landings[n];
    text += fmt::format("  {}{}: {} as the current begins, {} at its peak", names[n],
                        n == 0 && run.landings.size() > 1 ? " (judged)" : "",
                        in_words::force(tip.force_at_start), in_words::force(tip.force_at_peak));
    if (problem.pressing.moving_mass > 0)
      text += fmt::format("; bounces {}", bounces_text(tip.bounces));
    text += "\n";
  }
  return text;
}

}  // namespace tabmelt::report
