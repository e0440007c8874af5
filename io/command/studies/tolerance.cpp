#include "solver/search/tolerance.h"

#include <fmt/format.h>

#include <algorithm>

#include "io/command/studies/session.h"
#include "io/study/study_words.h"
#include "io/study/tolerance_report.h"
#include "viz/pictures/studies/study_pages.h"

namespace tabmelt::command {
namespace {

constexpr int halvings = 5;
constexpr std::size_t shown_windows = 18;

std::vector<study::Distribution> distributions(const std::vector<UncertainKey>& inputs) {
  std::vector<study::Distribution> list;
  for (const UncertainKey& input : inputs) list.push_back(input.distribution);
  return list;
}

study::Point values(const std::vector<Knob>& knobs) {
  study::Point point;
  for (const Knob& knob : knobs) point.push_back(knob.value);
  return point;
}

pictures::ToleranceWindow drawn(const ToleranceStudy& s, std::size_t i) {
  const Knob& knob = s.knobs[i];
  const study::Window& w = s.windows[i];
  pictures::ToleranceWindow drawn;
  drawn.words = knob.key;
  drawn.value = knob.words(knob.value);
  drawn.from = knob.words(w.below.good);
  drawn.to = knob.words(w.above.good);
  drawn.low = w.below.good / knob.value;
  drawn.high = w.above.good / knob.value;
  drawn.open_low = w.below.open;
  drawn.open_high = w.above.open;
  drawn.spread_low = s.inputs[i].distribution.quantile(0.05) / knob.value;
  drawn.spread_high = s.inputs[i].distribution.quantile(0.95) / knob.value;
  return drawn;
}

pictures::TolerancePicture picture(const ToleranceStudy& s, const std::string& origin) {
  pictures::TolerancePicture p;
  p.head = {s.title,
            tolerance_sentence(s),
            "How sure is it?",
            fmt::format("{} runs", s.answer.computed),
            origin,
            s.answer.complete ? "" : "study cut short: what was computed until then"};
  p.chance = s.answer.good.value;
  p.low = s.answer.good.low;
  p.high = s.answer.good.high;
  p.note = fmt::format("As it stands: {}, least margin {}.",
                       region_words(study::region_of(s.nominal)), margin_words(s.nominal.margin));
  for (const auto& [key, chance] : s.answer.verdicts)
    p.verdicts.push_back(
        {region_words(key), chance.value, chance.low, chance.high, key == "fused"});
  for (const study::Deciding& deciding : s.answer.deciding) {
    pictures::ToleranceLimit limit{
        fmt::format("{} ({})", region_words(deciding.limit), share_words(deciding.passed.value)),
        {}};
    for (const std::size_t i : by_influence(deciding.of)) {
      const study::Index& index = deciding.of.first_order[i];
      if (stands_out(index))
        limit.inputs.push_back({s.inputs[i].key, index.value, index.deviation, index.slope > 0});
    }
    p.limits.push_back(std::move(limit));
  }
  for (const std::size_t i : by_influence(s.answer))
    if (p.windows.size() < shown_windows && i < s.windows.size() && s.windows[i].known &&
        s.ranges[i].by_ratio && !(s.windows[i].below.open && s.windows[i].above.open))
      p.windows.push_back(drawn(s, i));
  return p;
}

// The runs that a killed study would have to find again come first, the windows then.
void look_for_windows(Session& session, ToleranceStudy& s, const study::Evaluate& evaluate) {
  for (const UncertainKey& input : s.inputs) s.ranges.push_back(window_range(input));
  session.progress().stage("windows", s.nominal.good ? 2 * s.inputs.size() * (halvings + 1) : 1);
  s.windows = study::windows(evaluate, values(s.knobs), s.ranges, halvings);
}

}  // namespace

ExitStatus tolerance(const ToleranceOptions& options) {
  Session session(options.study);
  Study& study = session.study();
  ToleranceStudy s;
  s.title = study.base().title;
  s.inputs = uncertain_keys(study.base());
  if (s.inputs.empty())
    throw InputError({{study.base().file.string(), 0, "",
                       "nothing in this case is uncertain; say so with spread.<key>"}});
  for (const UncertainKey& input : s.inputs) s.knobs.push_back(knob_of(input));
  const study::Evaluate evaluate = study.over(s.knobs);

  session.progress().stage("draws", static_cast<std::size_t>(options.draws) + 1);
  s.nominal = evaluate({values(s.knobs)}).front();
  std::vector<study::Point> points;
  std::vector<study::Judged> runs;
  s.answer = study::tolerance(evaluate, distributions(s.inputs),
                              static_cast<std::size_t>(options.draws), points, runs);
  if (options.windows && !study.stopped()) look_for_windows(session, s, evaluate);

  for (study::Point& u : points)
    for (std::size_t i = 0; i < u.size(); ++i) u[i] = s.inputs[i].distribution.quantile(u[i]);
  session.write("tolerance.csv", runs_csv(s.knobs, points, runs));
  session.write(tolerance_report(s), "tolerance");
  session.draw(
      pictures::tolerance_page(picture(s, "tabmelt " TABMELT_VERSION "  \u00b7  tolerance")),
      "tolerance.png");
  return session.finish();
}

}  // namespace tabmelt::command
