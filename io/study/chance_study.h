// The chance of a good weld at any setting of some knobs: every other uncertain number spreads as
// the case has it, and a knob that is uncertain itself spreads around its setting.
#pragma once

#include <vector>

#include "io/study/study.h"
#include "solver/search/tolerance.h"

namespace tabmelt {

class ChanceStudy {
 public:
  // `study` must outlive it. Throws InputError as uncertain_keys() does.
  ChanceStudy(Study& study, const std::vector<Knob>& knobs, std::size_t draws);

  struct At {
    study::Chance good;
    std::vector<study::Judged> runs;  // the nominal run first
    // The margin that as many draws fall short of as may be bad at this chance [1].
    double margin_at(double chance) const;
  };
  // All points together, as one batch.
  std::vector<At> at(const std::vector<study::Point>& points);

 private:
  std::vector<Knob> all_;             // knobs, then the other uncertain keys
  std::vector<UncertainKey> inputs_;  // which of all_ spread
  std::vector<std::size_t> places_;   // of the inputs in all_
  std::size_t knobs_;
  std::vector<std::vector<double>> draws_;
  study::Evaluate evaluate_;
};

}  // namespace tabmelt
