#include "solver/search/window.h"

#include <cmath>
#include <stdexcept>

namespace tabmelt::study {
namespace {

struct Side {
  std::size_t knob = 0;
  WindowEdge* edge = nullptr;
  double next = 0;
  bool done = false;
};

// Whole numbers next to one another leave nothing between.
bool settled(const KnobRange& knob, const WindowEdge& edge) {
  return knob.whole && std::abs(edge.bad - edge.good) < 1.5;
}

void take(Side& side, const KnobRange& knob, const Judged& run) {
  if (run.good) {
    side.edge->good = side.next;
    side.edge->open = side.next == side.edge->bad;  // the end of the range
  } else {
    side.edge->bad = side.next;
    side.edge->verdict = region_of(run);
  }
  side.done = side.edge->open || settled(knob, *side.edge);
}

// One batch with the next value of each side; false if it was cut short.
bool advance(const Evaluate& evaluate, const Point& start, const std::vector<KnobRange>& knobs,
             std::vector<Side>& sides) {
  std::vector<Point> points;
  std::vector<Side*> asked;
  for (Side& side : sides) {
    if (side.done) continue;
    Point point = start;
    point[side.knob] = side.next;
    points.push_back(std::move(point));
    asked.push_back(&side);
  }
  if (points.empty()) return true;
  const std::vector<Judged> runs = evaluate(points);
  if (cut_short(runs)) return false;
  for (std::size_t n = 0; n < runs.size(); ++n) take(*asked[n], knobs[asked[n]->knob], runs[n]);
  return true;
}

}  // namespace

double middle_of(const KnobRange& knob, double a, double b) {
  const bool ratio = knob.by_ratio && a > 0 && b > 0;
  const double middle = ratio ? std::sqrt(a * b) : 0.5 * (a + b);
  return knob.whole ? std::round(middle) : middle;
}

std::vector<Window> windows(const Evaluate& evaluate, const Point& point,
                            const std::vector<KnobRange>& knobs, int halvings) {
  if (point.size() != knobs.size()) throw std::invalid_argument("windows(): a range per number");
  std::vector<Window> result(knobs.size());
  const std::vector<Judged> first = evaluate({point});
  if (cut_short(first) || !first[0].good) return result;
  std::vector<Side> sides;
  for (std::size_t k = 0; k < knobs.size(); ++k) {
    for (auto [edge, end] :
         {std::pair(&result[k].below, knobs[k].low), std::pair(&result[k].above, knobs[k].high)}) {
      *edge = {point[k], end, end == point[k], ""};
      sides.push_back({k, edge, end, end == point[k]});
    }
  }
  for (int n = 0; n <= halvings; ++n) {
    if (n > 0)
      for (Side& side : sides)
        if (!side.done) side.next = middle_of(knobs[side.knob], side.edge->good, side.edge->bad);
    if (!advance(evaluate, point, knobs, sides)) return result;
  }
  for (Window& window : result) window.known = true;
  return result;
}

}  // namespace tabmelt::study
