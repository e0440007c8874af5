#include "io/inference/learn_study.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "solver/sampling/draws.h"
#include "solver/study/judged_run.h"

namespace tabmelt {
namespace {

using inference::Foretold;
using study::Judged;
using study::Point;

constexpr std::size_t draws_of_a_chance = 100;
constexpr std::size_t draws_of_a_candidate = 40;
constexpr std::size_t replicas = 2000;

std::optional<double> peel_force(const Judged& run) {
  const auto& list = studied_quantities();
  for (std::size_t q = 0; q < list.size() && q < run.numbers.size(); ++q)
    if (list[q].key == "peel_force") return run.numbers[q];
  return std::nullopt;
}

std::vector<std::vector<double>> chosen(const std::vector<std::vector<double>>& points,
                                        const std::vector<std::size_t>& numbers) {
  std::vector<std::vector<double>> list;
  for (const std::size_t n : numbers) list.push_back(points[n]);
  return list;
}

// What spreads in this case, or of it only what was asked for.
std::vector<UncertainKey> wanted_inputs(const Case& read, const std::vector<std::string>& keys) {
  std::vector<UncertainKey> inputs = uncertain_keys(read);
  std::vector<Complaint> complaints;
  for (const std::string& key : keys)
    if (std::none_of(inputs.begin(), inputs.end(),
                     [&](const UncertainKey& input) { return input.key == key; }))
      complaints.push_back(
          {"", 0, "",
           fmt::format("{} is not uncertain in this case; give it a spread with spread.{} in the "
                       "case, or look for its name in `tabmelt explain`",
                       key, key)});
  if (inputs.empty() && complaints.empty())
    complaints.push_back(
        {read.file.string(), 0, "",
         "nothing in this case is uncertain, so nothing can be learnt; say so with "
         "spread.<key>"});
  if (!complaints.empty()) throw InputError(std::move(complaints));
  if (!keys.empty())
    std::erase_if(inputs, [&](const UncertainKey& input) {
      return std::find(keys.begin(), keys.end(), input.key) == keys.end();
    });
  return inputs;
}

}  // namespace

LearnStudy::LearnStudy(Study& study, WeldTable table, LearnAsked asked)
    : study_(study),
      table_(std::move(table)),
      asked_(std::move(asked)),
      inputs_(wanted_inputs(study.base(), asked_.unknowns)),
      runs_(study, table_.knobs, inputs_) {
  for (const TestWeld& weld : table_.welds) {
    const auto same = std::find(settings_.begin(), settings_.end(), weld.settings);
    setting_of_.push_back(static_cast<std::size_t>(same - settings_.begin()));
    if (same == settings_.end()) settings_.push_back(weld.settings);
  }
  known_.resize(settings_.size());
}

Foretold LearnStudy::foretold(const Judged& run) const {
  return inference::foretold(run, peel_force(run), asked_.model);
}

std::vector<double> LearnStudy::log_likelihood(const Points& points) {
  Runs more = runs_.at(settings_, points);
  std::vector<double> list(points.size(), 0);
  for (std::size_t w = 0; w < table_.welds.size(); ++w)
    for (std::size_t i = 0; i < points.size(); ++i)
      list[i] += inference::log_likelihood(table_.welds[w].noted, foretold(more[setting_of_[w]][i]),
                                           asked_.model);
  for (std::size_t s = 0; s < more.size(); ++s)
    std::move(more[s].begin(), more[s].end(), std::back_inserter(known_[s]));
  return list;
}

// Notes drawn from the posterior's draws, each as likely or not as those of the bench were: the
// posterior predictive check (A. Gelman, X.-L. Meng & H. Stern, Statist. Sinica 6 (1996) 733).
void LearnStudy::judge_notes(Learning& answer) const {
  const std::vector<double>& weight = answer.posterior.weight;
  for (std::size_t w = 0; w < table_.welds.size(); ++w) {
    double mean = 0;
    for (std::size_t i = 0; i < weight.size(); ++i)
      mean += weight[i] *
              std::exp(inference::log_likelihood(
                  table_.welds[w].noted, foretold(known_[setting_of_[w]][i]), asked_.model));
    answer.explained.push_back(mean);
  }
  std::mt19937_64 engine(1);
  std::uniform_real_distribution<double> uniform(0, 1);
  std::size_t as_bad = 0;
  const auto draws = inference::resampled(weight, replicas);
  for (const std::size_t i : draws) {
    double seen = 0, drawn = 0;
    for (std::size_t w = 0; w < table_.welds.size(); ++w) {
      const Foretold f = foretold(known_[setting_of_[w]][i]);
      inference::Noted noted = table_.welds[w].noted;
      noted.peel_force.reset();
      seen += inference::log_likelihood(noted, f, asked_.model);
      for (std::size_t n = 0; n < inference::notes; ++n)
        if (noted.yes[n]) noted.yes[n] = uniform(engine) < f.yes[n];
      drawn += inference::log_likelihood(noted, f, asked_.model);
    }
    as_bad += drawn <= seen + 1e-9 ? 1 : 0;
  }
  answer.surprise = static_cast<double>(as_bad) / static_cast<double>(draws.size());
}

void LearnStudy::add_chances(Learning& answer) {
  std::vector<Point> settings = settings_;
  for (const Point& one : asked_.settings)
    if (std::find(settings.begin(), settings.end(), one) == settings.end()) settings.push_back(one);
  const std::size_t prior = std::min(asked_.drawing.draws, draws_of_a_chance);
  Points before(answer.posterior.points.begin(),
                answer.posterior.points.begin() + static_cast<std::ptrdiff_t>(prior));
  // No more than the draws that carry the weight can tell.
  const auto count = static_cast<std::size_t>(
      std::clamp(answer.posterior.effective, 10.0, static_cast<double>(draws_of_a_chance)));
  const Points after =
      chosen(answer.posterior.points, inference::resampled(answer.posterior.weight, count));
  const Runs first = runs_.at(settings, before), then = runs_.at(settings, after);
  for (std::size_t s = 0; s < settings.size(); ++s)
    answer.chances.push_back({settings[s], chance_of_good(first[s]), chance_of_good(then[s])});
}

// Points that fill the box of all settings tried so far, a quarter larger each way, or the one that
// was asked for; and the settings themselves.
std::vector<Point> LearnStudy::candidates() const {
  std::vector<Point> list = settings_;
  if (table_.knobs.empty()) return list;
  for (const auto& u : study::even_points(asked_.candidates, table_.knobs.size(), 7)) {
    Point point;
    for (std::size_t k = 0; k < table_.knobs.size(); ++k) {
      const Knob& knob = table_.knobs[k];
      double low = settings_.front()[k], high = low;
      for (const Point& one : settings_) {
        low = std::min(low, one[k]);
        high = std::max(high, one[k]);
      }
      const double more = high > low ? 0.25 * (high - low) : 0.25 * std::abs(low);
      low = std::max(low - more, knob.address.lowest());
      high = std::min(high + more, knob.address.highest());
      if (k < asked_.tries.size() && asked_.tries[k].second > asked_.tries[k].first)
        std::tie(low, high) = asked_.tries[k];
      double value = low + u[k] * (high - low);
      if (knob.is_switch()) value = u[k] > 0.5 ? 1 : 0;
      if (knob.whole()) value = std::round(value);
      // In the figures that a person would set.
      if (!knob.whole() && !knob.is_switch() && value > 0) {
        const double step = std::pow(10, std::floor(std::log10(value)) - 1);
        value = std::clamp(std::round(value / step) * step, low, high);
      }
      point.push_back(value);
    }
    if (std::find(list.begin(), list.end(), point) == list.end()) list.push_back(std::move(point));
  }
  return list;
}

void LearnStudy::add_next(Learning& answer) {
  const std::vector<Point> list = candidates();
  const std::size_t count =
      std::min(draws_of_a_candidate,
               static_cast<std::size_t>(std::max(10.0, std::floor(answer.posterior.effective))));
  const Points draws =
      chosen(answer.posterior.points, inference::resampled(answer.posterior.weight, count));
  const Runs runs = runs_.at(list, draws);
  const std::vector<double> equal(draws.size(), 1.0 / static_cast<double>(draws.size()));
  for (std::size_t c = 0; c < list.size(); ++c) {
    NextWeld next;
    next.setting = list[c];
    std::vector<Foretold> all;
    for (const Judged& run : runs[c]) {
      all.push_back(foretold(run));
      for (std::size_t n = 0; n < inference::notes; ++n)
        next.yes[n] += all.back().yes[n] / static_cast<double>(draws.size());
    }
    next.information = inference::expected_information(all, equal);
    answer.next.push_back(std::move(next));
  }
  std::stable_sort(answer.next.begin(), answer.next.end(),
                   [](const auto& a, const auto& b) { return a.information > b.information; });
}

Learning LearnStudy::learn() {
  Learning answer;
  for (auto& runs : known_) runs.clear();
  answer.posterior =
      inference::posterior([this](const Points& points) { return log_likelihood(points); },
                           inputs_.size(), asked_.drawing);
  if (study_.stopped()) return answer;
  for (const auto& runs : known_)
    for (const Judged& run : runs) answer.failed += run.state == study::State::failed ? 1 : 0;
  judge_notes(answer);
  add_chances(answer);
  if (!study_.stopped() && asked_.candidates > 0) add_next(answer);
  answer.complete = !study_.stopped();
  return answer;
}

}  // namespace tabmelt
