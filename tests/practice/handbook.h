// Two equal sheets between two electrodes, as the handbooks of resistance welding tabulate them,
// computed as a half model by mirror symmetry: the lower sheet is a thin twin without electrical
// resistance whose lower face is the middle plane; the film of the joint counts half.
#pragma once

#include <string>
#include <vector>

#include "solver/problem/problem.h"
#include "solver/result/result.h"

namespace tabmelt::practice {

struct Handbook {
  std::string name;
  std::string material;
  double thickness;  // [mm]
  double tip;        // [mm] face
  double force;      // [N]
  double current;    // [A] r.m.s., rectified sine
  double duration;   // [ms]
  double frequency;  // [Hz]
  double nugget;     // [mm] published
  double shear;      // [N] published lap strength; 0: none
  std::string source;
  bool held;  // met within the test's band; the others stand in AGREEMENT.md with their numbers
  bool sticks = false;  // computed to stick to the tips, which no published weld does: AGREEMENT.md
};

// Published welds with their sources.
const std::vector<Handbook>& handbook();

Problem half_model(const Handbook&, double current_factor, bool flat);
// [mm] molten in the sheet at the joint.
double nugget(const Result&);
// Current that makes the published nugget over the published current; 0 if none up to twice does.
double needed_current(const Handbook&, bool flat);

}  // namespace tabmelt::practice
