// Judgements in closed form: what a study would ask a solver for.
#pragma once

#include <cmath>

#include "solver/search/judged.h"

namespace tabmelt::study {

// `margin` of each limit of a point; good if all are positive. The worst leads.
template <typename Margins>
Evaluate judged_by(Margins margins, std::size_t* runs = nullptr) {
  return [margins, runs](const std::vector<Point>& points) {
    std::vector<Judged> all;
    for (const Point& point : points) {
      Judged run;
      run.state = State::computed;
      run.verdict = "fused";
      run.good = true;
      run.margin = 10;
      for (const auto& [key, margin] : margins(point)) {
        run.limits.push_back({key, margin < 0, margin});
        if (margin < run.margin) {
          run.margin = margin;
          if (margin < 0) run.verdict = key;
        }
        if (margin < 0) run.good = false;
      }
      run.numbers = point;
      all.push_back(run);
      if (runs) ++*runs;
    }
    return all;
  };
}

using Margins = std::vector<std::pair<std::string, double>>;

// Stops after so many points.
inline Evaluate stopping_after(const Evaluate& evaluate, std::size_t left) {
  return [evaluate, left](const std::vector<Point>& points) mutable {
    std::vector<Judged> runs = evaluate(points);
    for (Judged& run : runs) {
      if (left == 0) run = Judged{};
      if (left > 0) --left;
    }
    return runs;
  };
}

}  // namespace tabmelt::study
