#include "io/study/chance_study.h"

#include <algorithm>

#include "solver/sampling/draws.h"

namespace tabmelt {
namespace {

// The nominal run tells of a chance only if there is no other.
std::size_t first_draw(const std::vector<study::Judged>& runs) { return runs.size() > 1 ? 1 : 0; }

}  // namespace

ChanceStudy::ChanceStudy(Study& study, const std::vector<Knob>& knobs, std::size_t draws)
    : ChanceStudy(study, knobs, uncertain_keys(study.base()), draws) {}

ChanceStudy::ChanceStudy(Study& study, const std::vector<Knob>& knobs,
                         std::vector<UncertainKey> inputs, std::size_t draws)
    : runs_(study, knobs, inputs) {
  if (inputs.empty() || draws == 0) return;
  for (auto& draw : study::even_points(draws, inputs.size())) draws_.push_back(std::move(draw));
}

std::vector<ChanceStudy::At> ChanceStudy::at(const std::vector<study::Point>& points) {
  std::vector<At> answers;
  for (auto& runs : runs_.at(points, draws_))
    answers.push_back({chance_of_good(runs, first_draw(runs)), std::move(runs)});
  return answers;
}

double ChanceStudy::At::margin_at(double chance) const {
  std::vector<double> margins;
  for (std::size_t k = first_draw(runs); k < runs.size(); ++k)
    margins.push_back(runs[k].state == study::State::computed ? runs[k].margin : -1.0);
  if (margins.empty()) return -1;
  std::sort(margins.begin(), margins.end());
  const auto may_fail =
      static_cast<std::size_t>((1 - chance) * static_cast<double>(margins.size()) + 1e-9);
  return margins[std::min(may_fail, margins.size() - 1)];
}

}  // namespace tabmelt
