// Pictures of many runs: the lobe over two knobs, and what a tolerance study says. Plain values in,
// a page out.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "viz/pictures/head_and_foot.h"

namespace tabmelt::pictures {

struct LobeAxis {
  std::string title;        // key and unit
  double from = 0, to = 1;  // in that unit
  double value = 0;         // of the case
};

struct LobeRegion {
  std::string words;
  bool good = false;
  double share = 0;  // [1] of the picture
};

struct LobeContour {
  std::string title;          // "nugget [mm]"
  std::vector<float> values;  // at the corners
  std::vector<double> levels;
};

struct Lobe {
  PageHead head;
  LobeAxis x, y;
  int cells = 0;
  // (cells + 1)^2 corners, x first: number of the region, -1 where nothing is known.
  std::vector<int> region;
  std::vector<LobeRegion> regions;
  std::vector<LobeContour> contours;  // at most three
  std::vector<drawing::Point> runs;   // where it was computed, in units of the axes
  bool chance = false;                // regions are bands of chance, in their order
};

drawing::Page lobe_page(const Lobe&);

struct ToleranceBar {
  std::string words;
  double value = 0, low = 0, high = 0;  // [1]
  bool good = false;
};

struct ToleranceShare {
  std::string words;
  double value = 0, deviation = 0;  // [1]
  bool rises = false;               // more of it raises the margin
};

// What decides about one limit, most first.
struct ToleranceLimit {
  std::string words;
  std::vector<ToleranceShare> inputs;
};

struct ToleranceWindow {
  std::string words;                         // key
  std::string value, from, to;               // with units
  double low = 0, high = 0;                  // good between them, as a share of the value
  bool open_low = false, open_high = false;  // good as far as was tried
  double spread_low = 0, spread_high = 0;    // nine of ten lie between, as a share; both 0: none
};

struct TolerancePicture {
  PageHead head;
  double chance = 0, low = 0, high = 1;  // [1] of a good weld
  std::vector<ToleranceBar> verdicts;
  std::vector<ToleranceLimit> limits;  // those passed most often first
  std::vector<ToleranceWindow> windows;
  std::string note;  // below the chance
};

drawing::Page tolerance_page(const TolerancePicture&);

}  // namespace tabmelt::pictures
