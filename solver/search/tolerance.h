// How sure is a weld? From one sample over all that is uncertain: chances, which inputs decide, and
// what knowing one of them better would buy.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "solver/sampling/chance.h"
#include "solver/sampling/distribution.h"
#include "solver/sampling/sensitivity.h"
#include "solver/search/judged.h"

namespace tabmelt::study {

// One input known better: to the middle half of its probability instead of all of it.
struct Knowing {
  Chance middle;        // of a good weld, of the runs with u in 1/4..3/4
  Chance below, above;  // of those in the lowest and in the highest quarter
};

// What decides whether one limit is kept.
struct Deciding {
  std::string limit;
  Chance passed;   // that it is not kept
  Sensitivity of;  // of the ranks of its margin
};

struct Tolerance {
  std::size_t asked = 0, computed = 0, failed = 0;
  Chance good;
  std::vector<std::pair<std::string, Chance>> verdicts;  // most likely first
  std::vector<std::pair<std::string, Chance>> limits;    // each limit: chance that it holds
  // Of the limits that some run passed, most often first; if there is none, of the one that comes
  // nearest. Not of the least margin: two limits on opposite sides would hide each other.
  std::vector<Deciding> deciding;
  std::vector<Knowing> knowing;                             // one for each input
  std::vector<double> median, lowest_tenth, highest_tenth;  // of the numbers; empty if no run
  bool complete = false;
};

// Runs for points u of the unit cube, one number per input: points and their runs.
Tolerance tolerance_of(const std::vector<std::vector<double>>& points,
                       const std::vector<Judged>& runs);

// Draws points and asks for the runs; `points` receives the u.
Tolerance tolerance(const Evaluate&, const std::vector<Distribution>& inputs, std::size_t draws,
                    std::vector<std::vector<double>>& points, std::vector<Judged>& runs);

}  // namespace tabmelt::study
