// What to change so that a bad weld becomes a good one, found by trying.
//
// A change is measured in doublings: size = sum over the changed knobs of w |log2(x / x0)|, and w
// for a knob with only two settings. Tried are, until something helps:
//
//   1. each knob alone, in equal ratios both ways to the ends of its range; the first good step is
//      halved back towards the start, and the good stretch followed to its far end
//   2. pairs of the knobs that took most off what the passed limits lack together, each in its
//   better direction, on a grid;
//      a good point is halved back along the straight line (in logarithms) to the start
//   3. points of a low-discrepancy sequence over the ranges of all knobs; a good one is halved back
//      in the same way, then each knob that is not needed is put back
//
// Real numbers are tried in three figures. If all of that finds nothing, the share of the ranges
// that is good is below 1 - 0.05^(1/n) with 95 % confidence, and two limits that exclude each other
// are named.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/search/judged.h"

namespace tabmelt::study {

struct RemedyKnob {
  double start = 0, low = 0, high = 0;  // positive, unless it is a switch
  bool whole = false;
  bool is_switch = false;  // 0 or 1
  double weight = 1;
};

struct RemedyOptions {
  int steps = 6;  // of each knob and direction
  int halvings = 4;
  int pair_knobs = 4;
  int dense = 256;  // points over all ranges
};

struct Remedy {
  std::vector<std::size_t> knobs;  // that differ from the start
  Point least;                     // the smallest change found good
  Judged run;                      // of it
  Point aim;                       // middle of the good stretch beyond it: more room on both sides
  Judged aim_run;
  double size = 0;  // of `least` [doublings]
};

// Where `first` is kept, `second` fails by this at best, and the other way round [1]; negative.
struct Exclusion {
  std::string first, second;
  std::optional<double> best_second, best_first;  // nothing: never kept in any run
};

struct Advice {
  Judged start;
  std::vector<Remedy> singles, pairs, several;  // smallest first
  std::size_t tried = 0;                        // runs asked for
  std::size_t dense = 0;                        // points of step 3, if none of them was good
  Point best;                                   // where the least margin was largest
  Judged best_run;
  std::optional<Exclusion> exclusion;
  bool complete = false;
  bool helps() const { return !singles.empty() || !pairs.empty() || !several.empty(); }
};

double size_of_change(const std::vector<RemedyKnob>&, const Point&);

// If the start is good already, nothing is tried. Pairs are looked for even if a single change
// helps, but only kept if they are smaller than the singles of both of their knobs.
Advice advice(const Evaluate&, const std::vector<RemedyKnob>&, const RemedyOptions& = {});

}  // namespace tabmelt::study
