// What lies under a place of the section, and along a line through it. Places are (x, z) [mm];
// x < 0 is the mirrored half, where the same is found as at x > 0.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "solver/result/stored_run.h"
#include "viz/pictures/parts.h"

namespace tabmelt::window {

using namespace pictures;

// "insulating disc"; empty beside the parts.
std::string part_at(const StoredRun&, Point mm);

struct ProbeLine {
  Point from, to;
  double length() const;         // [mm]
  Point at(double share) const;  // 0: from, 1: to
};

// A stretch of the line inside one cell, as shares 0..1 of its length.
struct Stretch {
  double begin = 0, end = 0;
  std::size_t cell = 0;
  std::uint8_t part = 0;
};
// In order along the line; what lies beside the parts is left out.
std::vector<Stretch> stretches_along(const StoredRun&, const ProbeLine&);

// Values of cells at `count` even places along the line, both ends included: linear between the
// middles of stretches of one part, so that the jump across a contact stays one; not a number
// beside the parts.
std::vector<double> profile(const std::vector<Stretch>&, const std::vector<float>& cell_values,
                            std::size_t count);

}  // namespace tabmelt::window
