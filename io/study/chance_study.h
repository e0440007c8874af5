// The chance of a good weld at any setting of some knobs.
#pragma once

#include <vector>

#include "io/study/spread_runs.h"

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
  ChanceStudy(Study&, const std::vector<Knob>&, std::vector<UncertainKey>, std::size_t draws);

  std::vector<std::vector<double>> draws_{{}};  // the nominal one first
  SpreadRuns runs_;
};

}  // namespace tabmelt
