#include "mesh/spacing.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tabmelt::mesh {
namespace {

// The features that decide somewhere, by position: another one does not ask for finer cells at
// every place. As all grow alike, the nearest one on either side then decides.
std::vector<Feature> deciding(const Spacing& spacing) {
  std::vector<Feature> sorted = spacing.features;
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Feature& a, const Feature& b) { return a.position < b.position; });
  const auto keep_finest = [&](auto first, auto last) {
    std::vector<Feature> kept;
    for (auto f = first; f != last; ++f)
      if (kept.empty() ||
          f->size <
              kept.back().size + spacing.growth * std::abs(f->position - kept.back().position))
        kept.push_back(*f);
    return kept;
  };
  sorted = keep_finest(sorted.begin(), sorted.end());
  std::vector<Feature> falling = keep_finest(sorted.rbegin(), sorted.rend());
  return {falling.rbegin(), falling.rend()};
}

// Asked for rising places.
class WantedSize {
 public:
  explicit WantedSize(const Spacing& spacing)
      : growth_(spacing.growth), largest_(spacing.largest), features_(deciding(spacing)) {}

  double at(double x) {
    while (next_ < features_.size() && features_[next_].position <= x) ++next_;
    double size = largest_;
    if (next_ > 0) size = std::min(size, of(features_[next_ - 1], x));
    if (next_ < features_.size()) size = std::min(size, of(features_[next_], x));
    return size;
  }

 private:
  double of(const Feature& f, double x) const {
    return f.size + growth_ * std::abs(x - f.position);
  }

  double growth_, largest_;
  std::vector<Feature> features_;
  std::size_t next_ = 0;  // the first beyond the last place
};

}  // namespace

std::vector<double> graded_edges(const Spacing& spacing) {
  if (spacing.fixed.size() < 2 || spacing.features.empty())
    throw std::invalid_argument("graded_edges: needs two fixed edges and a feature");
  const std::vector<double>& bounds = spacing.largest_between;
  if (!bounds.empty() && bounds.size() + 1 != spacing.fixed.size())
    throw std::invalid_argument("graded_edges: needs one bound for each two fixed edges");
  std::vector<double> edges{spacing.fixed.front()};
  // Fine enough that the trapezoidal integral of 1/s is smooth compared with one cell.
  constexpr int samples = 2000;
  std::vector<double> index(samples + 1);
  WantedSize wanted(spacing);
  for (std::size_t k = 1; k < spacing.fixed.size(); ++k) {
    const double a = spacing.fixed[k - 1], b = spacing.fixed[k];
    if (!(b > a)) throw std::invalid_argument("graded_edges: fixed edges must increase");
    const double h = (b - a) / samples;
    const double bound = bounds.empty() ? spacing.largest : bounds[k - 1];
    index[0] = 0;
    for (int m = 1; m <= samples; ++m)
      index[static_cast<std::size_t>(m)] = index[static_cast<std::size_t>(m) - 1] +
                                           h / std::min(bound, wanted.at(a + (m - 0.5) * h));
    // Rounded at resolution 1 first: finer grids are then exact subdivisions of the same map.
    const double base = std::max(1.0, std::round(index.back()));
    const auto cells = static_cast<int>(std::max(1.0, std::round(base * spacing.resolution)));
    std::size_t m = 0;
    for (int c = 1; c < cells; ++c) {
      const double target = index.back() * c / cells;
      while (index[m + 1] < target) ++m;
      const double s = (target - index[m]) / (index[m + 1] - index[m]);
      edges.push_back(a + (static_cast<double>(m) + s) * h);
    }
    edges.push_back(b);
  }
  return edges;
}

}  // namespace tabmelt::mesh
