// What a person at the bench can change about a case, and how far.
#pragma once

#include <string>
#include <vector>

#include "io/study/knob.h"
#include "solver/search/remedy.h"

namespace tabmelt {

struct BenchKnob {
  Knob knob;
  study::RemedyKnob range;
  std::string words;  // "voltage of the bank"
};

// Those that the case has: voltage, parts in parallel, length of the longest pulse, force, tip,
// slit, strip, leads. A bank is not charged beyond its rating, if that is known.
std::vector<BenchKnob> bench_knobs(const Case&);

std::vector<Knob> knobs_of(const std::vector<BenchKnob>&);
std::vector<study::RemedyKnob> ranges_of(const std::vector<BenchKnob>&);

}  // namespace tabmelt
