// Advice that was tried, in words.
#pragma once

#include <string>
#include <vector>

#include "io/report/document.h"
#include "io/study/advice_knobs.h"
#include "solver/sampling/chance.h"
#include "solver/search/remedy.h"

namespace tabmelt {

struct AdviceStudy {
  std::string title;
  std::vector<BenchKnob> knobs;
  study::Advice advice;
  // Of the aim of each remedy, in the order of offered(); empty: not computed.
  std::vector<study::Chance> chances;

  std::vector<const study::Remedy*> offered() const;  // singles, pairs, several
};

std::string advice_sentence(const AdviceStudy&);
report::Document advice_report(const AdviceStudy&);

}  // namespace tabmelt
