// What a tolerance study says, for people and as picture data.
#pragma once

#include <string>
#include <vector>

#include "io/case/spreads.h"
#include "io/report/document.h"
#include "io/study/knob.h"
#include "solver/search/tolerance.h"
#include "solver/search/window.h"

namespace tabmelt {

struct ToleranceStudy {
  std::string title;
  std::vector<UncertainKey> inputs;
  study::Tolerance answer;
  std::vector<Knob> knobs;  // one for each input
  std::vector<study::KnobRange> ranges;
  std::vector<study::Window> windows;  // empty: not asked for
  study::Judged nominal;               // the case as it stands
};

// Half to twice the value, within what is possible; of a value of nothing the range of its spread.
study::KnobRange window_range(const UncertainKey&);

// Whether an index stands out from what an input that does nothing could have.
bool stands_out(const study::Index&);

// Numbers of the inputs, those that decide most about one of the limits first.
std::vector<std::size_t> by_influence(const study::Tolerance&);

// The same for one limit.
std::vector<std::size_t> by_influence(const study::Sensitivity&);

std::string tolerance_sentence(const ToleranceStudy&);
report::Document tolerance_report(const ToleranceStudy&);

}  // namespace tabmelt
