// The regions of the verdict over two knobs, from runs only where it changes.
//
// The picture has cells x cells squares (a power of two), so (cells + 1)^2 corners. A coarse grid
// and the centres of its squares are run first. A square whose corners differ is split in four: the
// middle of each edge whose ends differ is run, and the square's centre; the middle of an edge with
// equal ends is taken to be like them. A square with equal corners is split too if a run on its
// border says otherwise. So it goes on down to the squares of the picture; corners that were never
// run get the verdict of the square that they lie in, and their numbers by bilinear interpolation
// between its corners.
//
// An island smaller than a square of the coarse grid that no run meets is not seen.
#pragma once

#include <vector>

#include "solver/search/judged.h"

namespace tabmelt::study {

struct MapOptions {
  int cells = 64;  // along each side
  int coarse = 8;  // of the first grid, a power of two; at most `cells`
};

struct MapCorner {
  bool run = false;         // else inferred
  std::string region = {};  // region_of() of the run or of its surroundings; empty: not known yet
  bool good = false;
  double margin = 0;  // [1]
  std::vector<double> numbers = {};
};

struct VerdictMap {
  int cells = 0;
  std::vector<MapCorner> corners;  // (cells + 1)^2, x first
  std::size_t runs = 0;            // asked for
  bool complete = false;           // false: cut short
  const MapCorner& at(int i, int j) const {
    return corners[static_cast<std::size_t>(j) * static_cast<std::size_t>(cells + 1) +
                   static_cast<std::size_t>(i)];
  }
};

// `evaluate` is asked for points (x, y) with both in 0..1, multiples of 1/cells. `seen` hears of
// the map after each round. Throws std::invalid_argument unless cells and coarse are powers of two.
VerdictMap verdict_map(const Evaluate& evaluate, const MapOptions&,
                       const std::function<void(const VerdictMap&)>& seen = {});

}  // namespace tabmelt::study
