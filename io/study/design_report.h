// The cheapest set-up that is sure enough, in words.
#pragma once

#include <string>
#include <vector>

#include "io/report/document.h"
#include "io/study/chance_study.h"
#include "solver/search/least_cost.h"

namespace tabmelt {

struct DesignStudy {
  std::string title, expression;
  double wanted = 0.9;  // [1] chance of a good weld
  std::vector<KnobSpan> spans;
  study::LeastCost answer;
  ChanceStudy::At confirmed;  // of the best, from more draws
};

std::string design_sentence(const DesignStudy&);
report::Document design_report(const DesignStudy&);

}  // namespace tabmelt
