#include <fmt/format.h>

#include "io/command/studies/session.h"
#include "io/study/advice_report.h"
#include "io/study/chance_study.h"

namespace tabmelt::command {
namespace {

// More than these nobody reads, and each costs many runs.
constexpr std::size_t most_offered = 6;

void shorten(study::Advice& advice) {
  const auto keep = [](std::vector<study::Remedy>& list, std::size_t most) {
    if (list.size() > most) list.resize(most);
  };
  keep(advice.singles, most_offered);
  keep(advice.pairs,
       advice.singles.size() < most_offered ? most_offered - advice.singles.size() : 0);
  keep(advice.several, 2);
}

}  // namespace

ExitStatus advise(const AdviseOptions& options) {
  Session session(options.study);
  Study& study = session.study();
  AdviceStudy s;
  s.title = study.base().title;
  s.knobs = bench_knobs(study.base());
  const std::vector<Knob> knobs = knobs_of(s.knobs);
  session.progress().stage("search", 20 * knobs.size());
  s.advice = study::advice(study.over(knobs), ranges_of(s.knobs));
  shorten(s.advice);

  if (options.draws > 0 && !study.stopped() && s.advice.helps()) {
    ChanceStudy chances(study, knobs, static_cast<std::size_t>(options.draws));
    std::vector<study::Point> aims;
    for (const study::Remedy* remedy : s.offered()) aims.push_back(remedy->aim);
    session.progress().stage("chances",
                             aims.size() * (static_cast<std::size_t>(options.draws) + 1));
    for (const ChanceStudy::At& at : chances.at(aims)) s.chances.push_back(at.good);
    if (study.stopped()) s.chances.clear();
  }
  session.write(advice_report(s), "advice");
  return session.finish();
}

}  // namespace tabmelt::command
