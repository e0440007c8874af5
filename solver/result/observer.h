// What a run tells whoever is watching. The solver itself never prints and writes no file.
#pragma once

#include "solver/result/result.h"

namespace tabmelt {

class Observer {
 public:
  virtual ~Observer() = default;
  // Asked a few times while the run is prepared, after each part of the work: grid, laws, fields.
  // Return false to stop before the first step.
  virtual bool prepared() { return true; }
  // Called once before the first step with the grid, region and probe names filled in.
  virtual void begins(const Result&) {}
  // After each accepted step; progress in 0..1. Return false to stop the run.
  virtual bool step_done(const StepRecord&, double /*progress*/) { return true; }
  // A moment worth keeping, later than the one before; time 0 and the end are among them.
  virtual void frame_taken(const Frame&) {}
};

}  // namespace tabmelt
