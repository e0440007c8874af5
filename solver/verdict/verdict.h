// Is the weld good, and is the cell safe? Each finding carries the deciding number, its limit,
// the margin, when and where, and one sentence of advice. Several can hold at once; the worst
// leads. Limits that are engineering judgement say so in `basis`.
//
//   ladder of the bond       no bond -> stuck -> small nugget -> fused; exactly one holds at a
//   joint worst first              cell overheated, can puncture, burn-through of the strip,
//   expulsion,
//                            surface sparking, electrode sticking, then the bond
//
// What a problem gives no ground for (no cell, no melting data, fixed contacts) is left out.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "solver/problem/problem.h"
#include "solver/result/result.h"

namespace tabmelt {

enum class Outcome {
  no_bond,
  stuck,         // one side melted against the other
  small_nugget,  // both melted, over less than the smallest good nugget
  fused,
  surface_sparking,
  expulsion,
  electrode_sticking,
  strip_burn_through,
  can_puncture,
  cell_overheated,
};

// Words of the trade, e.g. "stuck (solid-state)".
std::string words(Outcome);
// Stable key for summary.json, e.g. "surface_sparking".
std::string key(Outcome);

struct Finding {
  Outcome outcome = Outcome::no_bond;
  bool holds = false;    // true: this happened
  std::string quantity;  // what decided, in words
  double value = 0;      // SI
  double limit = 0;      // SI
  std::string unit;      // SI unit of value and limit: "K", "m", "J", "V", "kg"
  double margin = 0;     // [1] distance from the limit on the good side, relative to it (for
                         // temperatures: to the limit's rise above ambient); negative: bad
  double time = 0;       // [s]
  double r = 0, z = 0;   // [m]
  std::string basis;     // source of the limit, or "engineering judgement"
  std::string advice;    // one sentence
  std::optional<std::size_t> joint;  // the faying surface it is about, from the top
};

struct Verdict {
  Outcome leading = Outcome::no_bond;
  bool good = false;              // fused, nothing bad holds, and the run was finished
  std::string sentence;           // verdict and reason for the person at the bench
  std::vector<Finding> findings;  // all that were judged: those that hold first, worst first
  // Of the joint with the least nugget for what it should have.
  double nugget_diameter = 0;          // [m] of all faying area ever molten on both sides
  double smallest_good_nugget = 0;     // [m] strength.h
  double shear_strength = 0;           // [N] estimated, one spot
  double peel_strength = 0;            // [N]
  bool cell_judged = false;            // there was a cell to protect
  bool cell_settled = true;            // its peaks had passed when the run ended
  bool cell_safe = true;               // settled, no limit reached, can not punctured
  std::vector<LayerRecord> cell_side;  // inner wall first; limit 0: not judged
};

// What would change if every limit were 20 % lower (of a temperature: of its rise), one sentence.
std::string if_limits_were_lower(const Verdict&);

// Never throws; a result with missing parts gets fewer findings.
Verdict judge(const Problem&, const Result&);

}  // namespace tabmelt
