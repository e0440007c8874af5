// How far one knob may drift, all others held: the window around a good weld, by halving.
//
//   good at x0; the end of the range is tried; if it is bad, the interval between the last good and
//   the first bad value is halved `halvings` times
//
// All knobs and both sides advance together, one batch for each halving. A bad gap inside the
// window that no trial meets is not seen; the width to which an edge is known is stated.
#pragma once

#include <vector>

#include "solver/search/judged.h"

namespace tabmelt::study {

struct KnobRange {
  double start = 0;          // the value of the case
  double low = 0, high = 0;  // tried no further than this, low <= start <= high
  bool whole = false;        // whole numbers only
  bool by_ratio = false;     // halved in the logarithm
};

struct WindowEdge {
  double good = 0;           // furthest value found good
  double bad = 0;            // nearest found bad; equal to good if the end of the range is good
  bool open = false;         // good to the end of the range
  std::string verdict = {};  // of `bad`
};

struct Window {
  bool known = false;  // the start is good and both sides were tried to the end
  WindowEdge below, above;
};

// One window for each knob; `point` is the case. Without a good start, or cut short, the windows
// are not `known`.
std::vector<Window> windows(const Evaluate&, const Point& point,
                            const std::vector<KnobRange>& knobs, int halvings = 5);

// Halfway, as the range wants it.
double middle_of(const KnobRange&, double a, double b);

}  // namespace tabmelt::study
