#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/case/units.h"
#include "io/command/studies/session.h"
#include "io/command/studies/written_case.h"
#include "io/inference/learn_report.h"
#include "viz/pictures/studies/inference_pages.h"

namespace tabmelt::command {
namespace {

constexpr std::size_t bars = 20;
constexpr std::size_t shown_panels = 8;

// "KEY=VALUE,KEY=VALUE" on the knobs of the table; what is not named stays as in the case.
study::Point point_of(const std::string& text, const std::vector<Knob>& knobs) {
  study::Point point;
  for (const Knob& knob : knobs) point.push_back(knob.value);
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t comma = std::min(text.find(',', from), text.size());
    const Override one = parsed_override(text.substr(from, comma - from));
    from = comma + 1;
    const auto knob =
        std::find_if(knobs.begin(), knobs.end(), [&](const Knob& k) { return k.key == one.key; });
    if (knob == knobs.end())
      refuse_input(
          fmt::format("--at {}: only keys that are columns of the table can be set", one.key));
    try {
      point[static_cast<std::size_t>(knob - knobs.begin())] = units::in_si(one.value, knob->unit());
    } catch (const units::UnitError& error) {
      refuse_input(fmt::format("--at {} = {} {}", one.key, one.value, error.what()));
    }
  }
  return point;
}

LearnAsked asked_of(const LearnOptions& options, const Case& read, const WeldTable& table) {
  LearnAsked asked;
  asked.unknowns = options.unknowns;
  asked.drawing.draws = static_cast<std::size_t>(options.draws);
  asked.drawing.enough = 0.4 * options.draws;
  asked.drawing.rounds = options.rounds;
  asked.model.wrong = options.wrong_note;
  asked.candidates = static_cast<std::size_t>(options.candidates);
  for (const std::string& at : options.at) asked.settings.push_back(point_of(at, table.knobs));
  asked.settings.push_back(point_of("", table.knobs));
  asked.tries.resize(table.knobs.size());
  for (const std::string& text : options.tries) {
    const KnobSpan span = knob_span(read, text);
    const auto knob = std::find_if(table.knobs.begin(), table.knobs.end(),
                                   [&](const Knob& k) { return k.key == span.knob.key; });
    if (knob == table.knobs.end())
      refuse_input(fmt::format("--try {}: only keys that are columns of the table can be varied",
                               span.knob.key));
    asked.tries[static_cast<std::size_t>(knob - table.knobs.begin())] = {span.from, span.to};
  }
  return asked;
}

// Densities over the values between the outer hundredths of what was believed before.
pictures::LearnPanel panel(const LearnAnswer& a, std::size_t input) {
  const UncertainKey& key = a.study->inputs()[input];
  const Knob knob = knob_of(key);
  const double low = key.distribution.quantile(0.01), high = key.distribution.quantile(0.99);
  pictures::LearnPanel p{
      key.key,          knob.words(after(a, input).middle), knob.words(low),
      knob.words(high), std::vector<double>(bars, 0),       std::vector<double>(bars, 0)};
  const auto bar_of = [&](double u) {
    const double share = (key.distribution.quantile(u) - low) / (high - low);
    return static_cast<std::size_t>(
        std::clamp(share * static_cast<double>(bars), 0.0, static_cast<double>(bars) - 1));
  };
  constexpr int grid = 4000;
  for (int n = 0; n < grid; ++n) p.before[bar_of((n + 0.5) / grid)] += 1.0 / grid;
  const inference::Posterior& found = a.found.posterior;
  for (std::size_t n = 0; n < found.points.size(); ++n)
    p.after[bar_of(found.points[n][input])] += found.weight[n];
  return p;
}

pictures::LearnPicture picture(const LearnAnswer& a) {
  pictures::LearnPicture p;
  p.head = {a.title,
            learn_sentence(a),
            "What the test welds say",
            fmt::format("{} welds, {} draws", a.study->table().welds.size(),
                        a.found.posterior.points.size()),
            "tabmelt " TABMELT_VERSION "  \u00b7  learn",
            a.found.complete ? "" : "study cut short"};
  for (const std::size_t i : by_learning(a))
    if (p.panels.size() < shown_panels && stands_out(a, i)) p.panels.push_back(panel(a, i));
  for (const BeforeAndAfter& c : a.found.chances)
    p.chances.push_back({setting_words(a.study->knobs(), c.setting), c.before.value, c.before.low,
                         c.before.high, c.after.value, c.after.low, c.after.high});
  p.next = a.found.next.empty()
               ? "not looked for"
               : fmt::format("{}: tells {:.2f} bit",
                             setting_words(a.study->knobs(), a.found.next.front().setting),
                             a.found.next.front().information);
  p.remarks = learn_remarks(a);
  return p;
}

}  // namespace

ExitStatus learn(const LearnOptions& options) {
  if (options.write) refuse_to_replace(*options.write, options.study.asked);
  Session session(options.study);
  Study& study = session.study();
  const WeldTable table = read_welds(options.welds, study.base());
  LearnStudy learning(study, table, asked_of(options, study.base(), table));
  LearnAnswer a{study.base().title, &learning, {}};
  session.progress().stage("draws", learning.runs_of_a_round());
  a.found = learning.learn();
  if (!a.found.explained.empty()) {
    session.write("learn.csv", learn_csv(a));
    session.write(learn_report(a), "learn");
    session.draw(pictures::learn_page(picture(a)), "learn.png");
    if (options.write && a.found.complete)
      write_learnt_case(session, *options.write, learning_as_learnt(a));
  }
  return session.finish();
}

}  // namespace tabmelt::command
