#include "solver/search/tolerance.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/sampling/draws.h"

namespace tabmelt::study {
namespace {

bool is_good(const Judged& run) { return run.state == State::computed && run.good; }

struct Tally {
  std::size_t good = 0, failed = 0, trials = 0;
  void add(const Judged& run) {
    if (run.state == State::not_run) return;
    ++trials;
    good += is_good(run) ? 1 : 0;
    failed += run.state == State::failed ? 1 : 0;
  }
  Chance chance() const { return chance_of(good, trials, failed); }
};

using Named = std::vector<std::pair<std::string, Chance>>;

Named ordered(const std::map<std::string, std::size_t>& counts, std::size_t trials,
              std::size_t failed) {
  Named list;
  for (const auto& [key, count] : counts) list.emplace_back(key, chance_of(count, trials, failed));
  std::stable_sort(list.begin(), list.end(),
                   [](const auto& a, const auto& b) { return a.second.count > b.second.count; });
  return list;
}

void count_verdicts(Tolerance& t, const std::vector<Judged>& runs) {
  std::map<std::string, std::size_t> verdicts, limits;
  for (const Judged& run : runs) {
    if (run.state != State::computed) continue;
    ++verdicts[run.verdict];
    for (const Limit& limit : run.limits) limits[limit.key] += limit.holds ? 1 : 0;
  }
  t.verdicts = ordered(verdicts, t.computed + t.failed, t.failed);
  t.limits = ordered(limits, t.computed + t.failed, t.failed);
}

double share_of(std::vector<double> values, double share) {
  const auto at =
      static_cast<std::size_t>(std::lround(share * static_cast<double>(values.size() - 1)));
  std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(at), values.end());
  return values[at];
}

void add_numbers(Tolerance& t, const std::vector<Judged>& runs) {
  std::vector<std::vector<double>> columns;
  for (const Judged& run : runs) {
    if (run.state != State::computed) continue;
    columns.resize(run.numbers.size());
    for (std::size_t n = 0; n < columns.size(); ++n) columns[n].push_back(run.numbers[n]);
  }
  for (const auto& column : columns) {
    t.median.push_back(share_of(column, 0.5));
    t.lowest_tenth.push_back(share_of(column, 0.1));
    t.highest_tenth.push_back(share_of(column, 0.9));
  }
}

double margin_of(const Judged& run, const std::string& key) {
  for (const Limit& limit : run.limits)
    if (limit.key == key) return limit.margin;
  return 0;
}

// The limit with the least median margin among those that can be passed.
std::string nearest_limit(const Tolerance& t, const std::vector<Judged>& runs) {
  std::string nearest;
  double least = 1e300;
  for (const auto& [key, chance] : t.limits) {
    std::vector<double> margins;
    for (const Judged& run : runs)
      if (run.state == State::computed) margins.push_back(margin_of(run, key));
    const double median = share_of(margins, 0.5);
    if (median < least) nearest = key;
    least = std::min(least, median);
  }
  return nearest;
}

void add_deciding(Tolerance& t, const std::vector<std::vector<double>>& points,
                  const std::vector<Judged>& runs) {
  // `fused` holds where all is well; its opposite is among the others.
  constexpr std::size_t most = 4;
  std::vector<std::pair<std::string, Chance>> chosen;
  for (const auto& limit : t.limits)
    if (limit.first != "fused" && limit.second.count > 0 && chosen.size() < most)
      chosen.push_back(limit);
  if (chosen.empty())
    for (const auto& limit : t.limits)
      if (limit.first == nearest_limit(t, runs)) chosen.push_back(limit);
  for (const auto& [key, chance] : chosen) {
    std::vector<double> margins;
    for (const Judged& run : runs)
      if (run.state == State::computed) margins.push_back(margin_of(run, key));
    t.deciding.push_back({key, chance, sensitivity(points, ranks(margins))});
  }
}

Knowing knowing(const std::vector<std::vector<double>>& points, const std::vector<Judged>& runs,
                std::size_t input) {
  Tally middle, below, above;
  for (std::size_t n = 0; n < runs.size(); ++n) {
    const double u = points[n][input];
    (u < 0.25 ? below : u < 0.75 ? middle : above).add(runs[n]);
  }
  return {middle.chance(), below.chance(), above.chance()};
}

std::vector<Point> values_of(const std::vector<std::vector<double>>& points,
                             const std::vector<Distribution>& inputs) {
  std::vector<Point> values;
  for (const auto& u : points) {
    Point value;
    for (std::size_t i = 0; i < inputs.size(); ++i) value.push_back(inputs[i].quantile(u[i]));
    values.push_back(std::move(value));
  }
  return values;
}

}  // namespace

Tolerance tolerance_of(const std::vector<std::vector<double>>& points,
                       const std::vector<Judged>& runs) {
  if (points.size() != runs.size()) throw std::invalid_argument("tolerance_of(): a run per point");
  Tolerance t;
  t.asked = runs.size();
  t.complete = !cut_short(runs);
  Tally all;
  std::vector<std::vector<double>> done;
  for (std::size_t n = 0; n < runs.size(); ++n) {
    all.add(runs[n]);
    if (runs[n].state != State::computed) continue;
    done.push_back(points[n]);
  }
  t.failed = all.failed;
  t.computed = all.trials - all.failed;
  t.good = all.chance();
  count_verdicts(t, runs);
  add_numbers(t, runs);
  if (!done.empty()) add_deciding(t, done, runs);
  for (std::size_t i = 0; !points.empty() && i < points[0].size(); ++i)
    t.knowing.push_back(knowing(points, runs, i));
  return t;
}

Tolerance tolerance(const Evaluate& evaluate, const std::vector<Distribution>& inputs,
                    std::size_t draws, std::vector<std::vector<double>>& points,
                    std::vector<Judged>& runs) {
  points = even_points(draws, inputs.size());
  runs = evaluate(values_of(points, inputs));
  return tolerance_of(points, runs);
}

}  // namespace tabmelt::study
