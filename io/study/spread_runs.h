// Runs at settings of some knobs, all that is uncertain spreading: a knob that is uncertain itself
// spreads around its setting, every other uncertain number as the case has it.
#pragma once

#include <vector>

#include "io/study/study.h"
#include "solver/sampling/chance.h"

namespace tabmelt {

class SpreadRuns {
 public:
  // `study` must outlive it; `inputs` spread, what else is uncertain stays as the case has it.
  SpreadRuns(Study& study, const std::vector<Knob>& knobs, std::vector<UncertainKey> inputs);

  // All settings with all draws, as one batch: [setting][draw]. A draw is a probability for each
  // input; an empty one leaves every input where it is.
  std::vector<std::vector<study::Judged>> at(const std::vector<study::Point>& settings,
                                             const std::vector<std::vector<double>>& draws);

 private:
  std::vector<Knob> all_;             // knobs, then the inputs that are none of them
  std::vector<UncertainKey> inputs_;  // which of all_ spread
  std::vector<std::size_t> places_;   // of the inputs in all_
  study::Evaluate evaluate_;
};

// How many of these runs are good; those that were not computed do not count.
study::Chance chance_of_good(const std::vector<study::Judged>& runs, std::size_t from = 0);

}  // namespace tabmelt
