#include <fmt/format.h>

#include <algorithm>

#include "io/command/studies/session.h"
#include "io/study/design_report.h"
#include "io/study/expression.h"
#include "solver/study/judged_run.h"

namespace tabmelt::command {
namespace {

// A set-up that is no good weld as it stands needs no draws: it lacks at least this and its margin.
constexpr double lack_of_bad = 0.05;

std::vector<std::string> names(const std::vector<KnobSpan>& spans) {
  std::vector<std::string> all;
  for (const KnobSpan& span : spans) all.push_back(span.knob.key);
  for (const StudiedQuantity& quantity : studied_quantities()) all.push_back(quantity.key);
  return all;
}

class Assessing {
 public:
  Assessing(Study& study, const DesignStudy& design, const DesignOptions& options)
      : design_(design),
        expression_(options.least, names(design.spans)),
        wanted_(options.chance),
        nominal_(study.over(knobs(design))),
        chances_(study, knobs(design), static_cast<std::size_t>(options.draws)) {}

  static std::vector<Knob> knobs(const DesignStudy& design) {
    std::vector<Knob> list;
    for (const KnobSpan& span : design.spans) list.push_back(span.knob);
    return list;
  }

  std::optional<study::Trial> operator()(const study::Point& point) {
    const study::Judged run = nominal_({point}).front();
    if (run.state == study::State::not_run) return std::nullopt;
    study::Trial trial{cost(point, run), 0};
    if (!run.good) {
      trial.shortfall = lack_of_bad + (run.state == study::State::failed ? 2 : -run.margin);
      return trial;
    }
    const ChanceStudy::At at = chances_.at({point}).front();
    if (study::cut_short(at.runs)) return std::nullopt;
    trial.shortfall = std::max(0.0, -at.margin_at(wanted_));
    return trial;
  }

 private:
  double cost(const study::Point& point, const study::Judged& run) const {
    std::vector<double> values;
    for (std::size_t k = 0; k < point.size(); ++k)
      values.push_back(design_.spans[k].knob.in_unit(point[k]));
    for (std::size_t q = 0; q < studied_quantities().size(); ++q)
      values.push_back(q < run.numbers.size() ? run.numbers[q] : 0);
    return expression_.at(values);
  }

  const DesignStudy& design_;
  Expression expression_;
  double wanted_;
  study::Evaluate nominal_;
  ChanceStudy chances_;
};

std::vector<study::DesignRange> ranges(const DesignStudy& design) {
  std::vector<study::DesignRange> list;
  for (const KnobSpan& span : design.spans) list.push_back({span.from, span.to, span.knob.whole()});
  return list;
}

}  // namespace

ExitStatus design(const DesignOptions& options) {
  Session session(options.study);
  Study& study = session.study();
  DesignStudy s;
  s.title = study.base().title;
  s.expression = options.least;
  s.wanted = options.chance;
  for (const std::string& text : options.vary) s.spans.push_back(knob_span(study.base(), text));
  Assessing assess(study, s, options);
  const auto draws = static_cast<std::size_t>(options.draws);
  const auto trials = static_cast<std::size_t>(options.evaluations);
  session.progress().stage("design", trials * (1 + draws / 2));
  s.answer = study::least_cost(std::ref(assess), ranges(s), trials);
  if (!s.answer.best.empty()) {
    session.progress().stage("chance", 4 * draws);
    ChanceStudy confirming(study, Assessing::knobs(s), 4 * draws);
    s.confirmed = confirming.at({s.answer.best}).front();
  }
  session.write(design_report(s), "design");
  return session.finish();
}

}  // namespace tabmelt::command
