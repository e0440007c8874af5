// Region numbers of one strip on a can with layers below.
#pragma once

#include <cstdint>

#include "solver/result/result.h"

namespace tabmelt::regions {

inline constexpr std::uint8_t electrode = 1, strip = 2, can = 3, layer = 4;

}  // namespace tabmelt::regions

namespace tabmelt {

// Room for what a strip on a can has.
inline void size_for_one_joint(Result& run) {
  run.contacts.resize(2);
  run.joints.resize(1);
  run.sheets.resize(2);
  run.ledger.contacts.resize(2);
  run.ledger.sheets.resize(2);
}

inline StepRecord step_with_one_joint() {
  StepRecord step;
  step.spots.resize(1);
  step.spots[0].contacts.resize(2);
  step.joints.resize(1);
  step.sheets.resize(2);
  return step;
}

}  // namespace tabmelt
