#include "solver/search/verdict_map.h"

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>
#include <utility>

namespace tabmelt::study {
namespace {

using Corner = std::pair<int, int>;

bool power_of_two(int n) { return n > 0 && (n & (n - 1)) == 0; }

struct Square {
  int i = 0, j = 0, size = 0;  // lower left corner
  auto operator<=>(const Square&) const = default;
};

class Refining {
 public:
  Refining(const Evaluate& evaluate, const MapOptions& options,
           const std::function<void(const VerdictMap&)>& seen)
      : evaluate_(evaluate), options_(options), seen_(seen) {
    map_.cells = options.cells;
    const auto side = static_cast<std::size_t>(options.cells + 1);
    map_.corners.resize(side * side);
  }

  VerdictMap done() {
    const int step = options_.cells / options_.coarse;
    for (int j = 0; j <= options_.cells; j += step)
      for (int i = 0; i <= options_.cells; i += step) wanted_.insert({i, j});
    for (int j = 0; j < options_.cells; j += step)
      for (int i = 0; i < options_.cells; i += step) {
        leaves_.insert({i, j, step});
        if (step > 1) wanted_.insert({i + step / 2, j + step / 2});
      }
    map_.complete = run_wanted();
    while (map_.complete && split_where_it_changes()) map_.complete = run_wanted();
    infer();
    return std::move(map_);
  }

 private:
  MapCorner& at(int i, int j) {
    return map_.corners[static_cast<std::size_t>(j) * static_cast<std::size_t>(map_.cells + 1) +
                        static_cast<std::size_t>(i)];
  }

  // What is known of a corner now: run, or assumed equal to its neighbours on an edge.
  const std::string& region(int i, int j) { return at(i, j).region; }

  bool run_wanted() {
    std::vector<Corner> corners;
    std::vector<Point> points;
    for (const auto& [i, j] : wanted_) {
      if (at(i, j).run) continue;
      corners.emplace_back(i, j);
      points.push_back({static_cast<double>(i) / map_.cells, static_cast<double>(j) / map_.cells});
    }
    wanted_.clear();
    const std::vector<Judged> runs = points.empty() ? std::vector<Judged>{} : evaluate_(points);
    for (std::size_t n = 0; n < runs.size(); ++n) {
      if (runs[n].state == State::not_run) continue;
      at(corners[n].first, corners[n].second) = {true, region_of(runs[n]), runs[n].good,
                                                 runs[n].margin, runs[n].numbers};
      ++map_.runs;
    }
    if (seen_) {
      infer();
      seen_(map_);
    }
    return !cut_short(runs);
  }

  // All that was run on the border and in the middle says the same.
  bool uniform(const Square& s) {
    const std::string& first = region(s.i, s.j);
    const MapCorner& centre = at(s.i + s.size / 2, s.j + s.size / 2);
    if (centre.run && centre.region != first) return false;
    for (int k = 0; k <= s.size; ++k)
      for (const auto& [i, j] : {Corner{s.i + k, s.j}, Corner{s.i + k, s.j + s.size},
                                 Corner{s.i, s.j + k}, Corner{s.i + s.size, s.j + k}})
        if (at(i, j).run && region(i, j) != first) return false;
    return true;
  }

  // The middle of an edge: run it if its ends differ, else it is like them.
  void halve(Corner a, Corner b) {
    const Corner middle{(a.first + b.first) / 2, (a.second + b.second) / 2};
    MapCorner& m = at(middle.first, middle.second);
    if (m.run) return;
    const MapCorner &from = at(a.first, a.second), &to = at(b.first, b.second);
    if (from.region != to.region) {
      wanted_.insert(middle);
      return;
    }
    m = from;
    m.run = false;
    m.margin = 0.5 * (from.margin + to.margin);
    for (std::size_t n = 0; n < std::min(m.numbers.size(), to.numbers.size()); ++n)
      m.numbers[n] = 0.5 * (from.numbers[n] + to.numbers[n]);
  }

  bool split_where_it_changes() {
    std::vector<Square> to_split;
    for (const Square& s : leaves_)
      if (s.size > 1 && !uniform(s)) to_split.push_back(s);
    for (const Square& s : to_split) {
      leaves_.erase(s);
      const int h = s.size / 2, i = s.i, j = s.j, I = s.i + s.size, J = s.j + s.size;
      for (const Square& part :
           {Square{i, j, h}, Square{i + h, j, h}, Square{i, j + h, h}, Square{i + h, j + h, h}})
        leaves_.insert(part);
      halve({i, j}, {I, j});
      halve({i, J}, {I, J});
      halve({i, j}, {i, J});
      halve({I, j}, {I, J});
      wanted_.insert({i + h, j + h});
    }
    return !to_split.empty();
  }

  // Corners never run, from the corners of their square.
  void infer() {
    for (const Square& s : leaves_) {
      for (int dj = 0; dj <= s.size; ++dj)
        for (int di = 0; di <= s.size; ++di) {
          MapCorner& c = at(s.i + di, s.j + dj);
          if (!c.run) interpolate(c, s, di, dj);
        }
    }
  }

  void interpolate(MapCorner& c, const Square& s, int di, int dj) {
    const double x = static_cast<double>(di) / s.size, y = static_cast<double>(dj) / s.size;
    const MapCorner* corners[] = {&at(s.i, s.j), &at(s.i + s.size, s.j), &at(s.i, s.j + s.size),
                                  &at(s.i + s.size, s.j + s.size)};
    double weights[] = {(1 - x) * (1 - y), x * (1 - y), (1 - x) * y, x * y};
    if (di % s.size == 0 && dj % s.size == 0) {
      if (!c.region.empty()) return;                           // taken to be like its edge
      std::fill(std::begin(weights), std::end(weights), 1.0);  // the study was stopped before it
    }
    double margin = 0, sum = 0;
    std::vector<double> numbers;
    const MapCorner* nearest = nullptr;
    double most = 0;
    for (int k = 0; k < 4; ++k) {
      const MapCorner& from = *corners[k];
      if (from.region.empty() || !(weights[k] > 0) || &from == &c) continue;
      if (weights[k] > most) {
        most = weights[k];
        nearest = &from;
      }
      if (from.numbers.empty()) continue;  // failed: no numbers to give
      sum += weights[k];
      margin += weights[k] * from.margin;
      numbers.resize(from.numbers.size(), 0.0);
      for (std::size_t n = 0; n < numbers.size(); ++n) numbers[n] += weights[k] * from.numbers[n];
    }
    if (!nearest) return;
    c.region = nearest->region;
    c.good = nearest->good;
    if (!(sum > 0)) return;
    c.margin = margin / sum;
    for (double& number : numbers) number /= sum;
    c.numbers = std::move(numbers);
  }

  const Evaluate& evaluate_;
  const MapOptions& options_;
  const std::function<void(const VerdictMap&)>& seen_;
  VerdictMap map_;
  std::set<Square> leaves_;
  std::set<Corner> wanted_;
};

}  // namespace

VerdictMap verdict_map(const Evaluate& evaluate, const MapOptions& options,
                       const std::function<void(const VerdictMap&)>& seen) {
  if (!power_of_two(options.cells) || !power_of_two(options.coarse) ||
      options.coarse > options.cells)
    throw std::invalid_argument("verdict_map(): cells and coarse are powers of two");
  return Refining(evaluate, options, seen).done();
}

}  // namespace tabmelt::study
