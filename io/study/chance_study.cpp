#include "io/study/chance_study.h"

#include <algorithm>
#include <cmath>

#include "io/case/units.h"
#include "solver/sampling/draws.h"

namespace tabmelt {
namespace {

// Around a setting that leaves no room for its spread the number is certain.
double spread_value(const UncertainKey& input, double around, double u) {
  if (around == input.value) return input.distribution.quantile(u);
  try {
    const auto there = spread_around(around, input.text, input.address);
    return there ? there->quantile(u) : around;
  } catch (const units::UnitError&) {
    return around;
  }
}

}  // namespace

ChanceStudy::ChanceStudy(Study& study, const std::vector<Knob>& knobs, std::size_t draws)
    : all_(knobs), inputs_(uncertain_keys(study.base())), knobs_(knobs.size()) {
  for (const UncertainKey& input : inputs_) {
    const auto same = std::find_if(knobs.begin(), knobs.end(),
                                   [&](const Knob& knob) { return knob.key == input.key; });
    places_.push_back(same == knobs.end() ? all_.size()
                                          : static_cast<std::size_t>(same - knobs.begin()));
    if (same == knobs.end()) all_.push_back(knob_of(input));
  }
  if (!inputs_.empty() && draws > 0) draws_ = study::even_points(draws, inputs_.size());
  evaluate_ = study.over(all_);
}

std::vector<ChanceStudy::At> ChanceStudy::at(const std::vector<study::Point>& points) {
  std::vector<study::Point> batch;
  for (const study::Point& point : points) {
    study::Point whole = point;
    for (std::size_t k = knobs_; k < all_.size(); ++k) whole.push_back(all_[k].value);
    batch.push_back(whole);
    for (const auto& u : draws_) {
      study::Point drawn = whole;
      for (std::size_t i = 0; i < inputs_.size(); ++i)
        drawn[places_[i]] = spread_value(inputs_[i], whole[places_[i]], u[i]);
      batch.push_back(std::move(drawn));
    }
  }
  const std::vector<study::Judged> runs = evaluate_(batch);
  std::vector<At> answers;
  const std::size_t each = 1 + draws_.size();
  for (std::size_t n = 0; n < points.size(); ++n) {
    At answer;
    const auto first = runs.begin() + static_cast<std::ptrdiff_t>(n * each);
    answer.runs.assign(first, first + static_cast<std::ptrdiff_t>(each));
    std::size_t good = 0, failed = 0, trials = 0;
    for (std::size_t k = draws_.empty() ? 0 : 1; k < each; ++k) {
      const study::Judged& run = answer.runs[k];
      if (run.state == study::State::not_run) continue;
      ++trials;
      good += run.good ? 1 : 0;
      failed += run.state == study::State::failed ? 1 : 0;
    }
    answer.good = study::chance_of(good, trials, failed);
    answers.push_back(std::move(answer));
  }
  return answers;
}

double ChanceStudy::At::margin_at(double chance) const {
  std::vector<double> margins;
  for (std::size_t k = runs.size() > 1 ? 1 : 0; k < runs.size(); ++k)
    margins.push_back(runs[k].state == study::State::computed ? runs[k].margin : -1.0);
  if (margins.empty()) return -1;
  std::sort(margins.begin(), margins.end());
  const auto may_fail =
      static_cast<std::size_t>((1 - chance) * static_cast<double>(margins.size()) + 1e-9);
  return margins[std::min(may_fail, margins.size() - 1)];
}

}  // namespace tabmelt
