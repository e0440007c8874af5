// A made-up run to draw: a warm spot under a tapered electrode on strip, can, disc and winding.
// The shapes and numbers are invented and obey no equation beyond looking like a weld.
#pragma once

#include <functional>
#include <vector>

#include "solver/result/stored_run.h"

namespace tabmelt::testing {

struct Shape {
  double rise = 1900;  // [K] hottest point above ambient; melting starts at 1728 K
  std::size_t frames = 40;
  bool complete = true;
  double fineness = 1;  // cells per length, relative to the usual mesh of about 7 000 cells
};

StoredRun synthetic_run(const Shape& = {});
// The same with nothing drawn on top of its metals, the tip where its cells are.
StoredRun uncovered_run(const Shape& = {});

// Where the middle of a cell lies [m].
struct Middle {
  double r = 0, z = 0;
};
Middle middle_of(const StoredRun&, std::size_t cell);
// A value for the middle of each cell.
std::vector<float> field_of(const StoredRun&, const std::function<double(const Middle&)>&);

}  // namespace tabmelt::testing
