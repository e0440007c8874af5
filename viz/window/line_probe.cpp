#include "viz/window/line_probe.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace tabmelt::window {

namespace {

// Shares of the line at which it meets the edges of cells, sorted, ends included.
std::vector<double> meetings(const StoredRun& run, const ProbeLine& line) {
  std::vector<double> shares{0, 1};
  const auto meet = [&](double edge, double from, double to) {
    if (const double share = (edge - from) / (to - from); share > 0 && share < 1) {
      shares.push_back(share);
    }
  };
  if (line.from.x != line.to.x) {
    for (const double edge : run.r_edges) {
      meet(edge * millimetres, line.from.x, line.to.x);
      meet(-edge * millimetres, line.from.x, line.to.x);
    }
  }
  if (line.from.y != line.to.y) {
    for (const double edge : run.z_edges) {
      meet(edge * millimetres, line.from.y, line.to.y);
    }
  }
  std::sort(shares.begin(), shares.end());
  return shares;
}

}  // namespace

std::string part_at(const StoredRun& run, Point mm) {
  const auto cell = cell_at(run, mm);
  return cell ? pictures::name_of(run, run.region[*cell]) : std::string();
}

double ProbeLine::length() const { return std::hypot(to.x - from.x, to.y - from.y); }

Point ProbeLine::at(double share) const {
  return {std::lerp(from.x, to.x, share), std::lerp(from.y, to.y, share)};
}

std::vector<Stretch> stretches_along(const StoredRun& run, const ProbeLine& line) {
  std::vector<Stretch> stretches;
  const std::vector<double> shares = meetings(run, line);
  for (std::size_t n = 1; n < shares.size(); ++n) {
    const double begin = shares[n - 1], end = shares[n];
    if (end - begin < 1e-9) {
      continue;
    }
    if (const auto cell = cell_at(run, line.at(0.5 * (begin + end)))) {
      stretches.push_back({begin, end, *cell, run.region[*cell]});
    }
  }
  return stretches;
}

std::vector<double> profile(const std::vector<Stretch>& stretches,
                            const std::vector<float>& cell_values, std::size_t count) {
  std::vector<double> values;
  const auto value = [&](const Stretch& stretch) {
    return static_cast<double>(cell_values.at(stretch.cell));
  };
  const auto middle = [](const Stretch& stretch) { return 0.5 * (stretch.begin + stretch.end); };
  const auto adjoining = [](const Stretch& a, const Stretch& b) {
    return a.part == b.part && b.begin - a.end < 1e-6;
  };
  std::size_t k = 0;
  for (std::size_t n = 0; n < count; ++n) {
    const double share = static_cast<double>(n) / static_cast<double>(count - 1);
    while (k < stretches.size() && stretches[k].end < share) {
      ++k;
    }
    // Between adjoining stretches lies the rounding of their common end.
    constexpr double rounding = 1e-9;
    if (k == stretches.size() || share < stretches[k].begin - rounding) {
      values.push_back(std::nan(""));
      continue;
    }
    const Stretch& here = stretches[k];
    const Stretch* neighbour = nullptr;
    if (share < middle(here) && k > 0 && adjoining(stretches[k - 1], here)) {
      neighbour = &stretches[k - 1];
    } else if (share > middle(here) && k + 1 < stretches.size() &&
               adjoining(here, stretches[k + 1])) {
      neighbour = &stretches[k + 1];
    }
    const double way =
        neighbour == nullptr ? 0 : (share - middle(here)) / (middle(*neighbour) - middle(here));
    values.push_back(neighbour == nullptr ? value(here)
                                          : std::lerp(value(here), value(*neighbour), way));
  }
  return values;
}

}  // namespace tabmelt::window
