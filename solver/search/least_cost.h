// The cheapest point that is good enough, among real and whole numbers.
//
// Two algorithms of NLopt, neither needs a gradient: DIRECT-L (J. M. Gablonsky & C. T. Kelley, J.
// Global Optim. 21 (2001) 27), which divides the ranges and copes with points that are not allowed,
// for two thirds of the trials; then COBYLA (M. J. D. Powell, 1994), which follows the cost along
// the edge of what is good enough, from the best so far. As long as nothing is good enough the
// shortfall itself is made small. Whole numbers are rounded inside each trial; no trial is made
// twice. The same trials in the same order every time.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "solver/search/judged.h"

namespace tabmelt::study {

struct DesignRange {
  double low = 0, high = 0;
  bool whole = false;
};

struct Trial {
  double cost = 0;
  double shortfall = 0;  // [1] 0: good enough; else by how much it is not
};

struct LeastCost {
  bool found = false;
  Point best;   // the cheapest that is good enough; else that which lacks least
  Trial trial;  // of it
  std::size_t trials = 0;
  bool complete = false;  // false: stopped
};

// `assess` gives nothing if the study was stopped. Throws std::invalid_argument without ranges or
// with one that is empty.
LeastCost least_cost(const std::function<std::optional<Trial>(const Point&)>& assess,
                     const std::vector<DesignRange>& ranges, std::size_t trials);

}  // namespace tabmelt::study
