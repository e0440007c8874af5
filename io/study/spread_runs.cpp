#include "io/study/spread_runs.h"

#include <algorithm>
#include <iterator>

#include "io/case/units.h"

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

SpreadRuns::SpreadRuns(Study& study, const std::vector<Knob>& knobs,
                       std::vector<UncertainKey> inputs)
    : all_(knobs), inputs_(std::move(inputs)) {
  for (const UncertainKey& input : inputs_) {
    const auto same = std::find_if(knobs.begin(), knobs.end(),
                                   [&](const Knob& knob) { return knob.key == input.key; });
    places_.push_back(same == knobs.end() ? all_.size()
                                          : static_cast<std::size_t>(same - knobs.begin()));
    if (same == knobs.end()) all_.push_back(knob_of(input));
  }
  evaluate_ = study.over(all_);
}

std::vector<std::vector<study::Judged>> SpreadRuns::at(
    const std::vector<study::Point>& settings, const std::vector<std::vector<double>>& draws) {
  std::vector<study::Point> batch;
  for (const study::Point& setting : settings) {
    study::Point whole = setting;
    for (std::size_t k = setting.size(); k < all_.size(); ++k) whole.push_back(all_[k].value);
    for (const std::vector<double>& u : draws) {
      study::Point drawn = whole;
      for (std::size_t i = 0; i < u.size(); ++i)
        drawn[places_[i]] = spread_value(inputs_[i], whole[places_[i]], u[i]);
      batch.push_back(std::move(drawn));
    }
  }
  std::vector<study::Judged> runs = evaluate_(batch);
  std::vector<std::vector<study::Judged>> sorted;
  auto run = std::make_move_iterator(runs.begin());
  for (std::size_t s = 0; s < settings.size(); ++s) {
    const auto next = run + static_cast<std::ptrdiff_t>(draws.size());
    sorted.emplace_back(run, next);
    run = next;
  }
  return sorted;
}

study::Chance chance_of_good(const std::vector<study::Judged>& runs, std::size_t from) {
  std::size_t good = 0, failed = 0, trials = 0;
  for (std::size_t n = from; n < runs.size(); ++n) {
    if (runs[n].state == study::State::not_run) continue;
    ++trials;
    good += runs[n].good ? 1 : 0;
    failed += runs[n].state == study::State::failed ? 1 : 0;
  }
  return study::chance_of(good, trials, failed);
}

}  // namespace tabmelt
