#include "solver/search/remedy.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "solver/sampling/draws.h"

namespace tabmelt::study {
namespace {

// Thrown inside this file only: the study was stopped, what is known stays.
struct Stopped {};

Point start_of(const std::vector<RemedyKnob>& knobs) {
  Point point;
  for (const RemedyKnob& knob : knobs) point.push_back(knob.start);
  return point;
}

// Nobody sets a knob to more.
double three_figures(double value) {
  const double power = std::pow(10.0, 2 - std::floor(std::log10(value)));
  return std::round(value * power) / power;
}

double rounded(const RemedyKnob& knob, double value) {
  if (knob.is_switch) return value > 0.5 ? 1 : 0;
  value = std::clamp(value, knob.low, knob.high);
  return knob.whole ? std::round(value) : std::clamp(three_figures(value), knob.low, knob.high);
}

// A share of the way from one value to another, in the logarithm.
double between(const RemedyKnob& knob, double from, double to, double share) {
  if (knob.is_switch) return share > 0 ? to : from;
  return rounded(knob, from * std::pow(to / from, share));
}

class Searching {
 public:
  Searching(const Evaluate& evaluate, const std::vector<RemedyKnob>& knobs,
            const RemedyOptions& options)
      : evaluate_(evaluate), knobs_(knobs), options_(options), start_(start_of(knobs)) {}

  Advice done() {
    try {
      advice_.start = run({start_}).front();
      if (!advice_.start.good) look();
      advice_.complete = true;
    } catch (const Stopped&) {
    }
    sort(advice_.singles);
    sort(advice_.pairs);
    sort(advice_.several);
    if (!advice_.helps() && !advice_.start.good) name_the_limits();
    return std::move(advice_);
  }

 private:
  struct Stretch {
    Point bad, good;    // either side of the near edge
    Point far, beyond;  // last good, first bad; equal if good to the end
  };

  void look() {
    look_at_singles();
    look_at_pairs();
    if (!advice_.helps()) look_everywhere();
  }

  std::vector<Judged> run(const std::vector<Point>& points) {
    std::vector<Judged> runs = points.empty() ? std::vector<Judged>{} : evaluate_(points);
    advice_.tried += runs.size();
    for (std::size_t n = 0; n < runs.size(); ++n) {
      if (runs[n].state != State::computed) continue;
      seen_.push_back(runs[n]);
      if (advice_.best.empty() || runs[n].margin > advice_.best_run.margin) {
        advice_.best = points[n];
        advice_.best_run = runs[n];
      }
    }
    if (cut_short(runs)) throw Stopped{};
    return runs;
  }

  // The values of a knob one way, from the start outwards; without repeats.
  std::vector<double> steps(std::size_t k, bool up) const {
    const RemedyKnob& knob = knobs_[k];
    if (knob.is_switch) {
      const double other = knob.start > 0.5 ? 0 : 1;
      return up == (other > knob.start) ? std::vector<double>{other} : std::vector<double>{};
    }
    std::vector<double> values;
    const double end = up ? knob.high : knob.low;
    double before = knob.start;
    for (int n = 1; n <= options_.steps; ++n) {
      const double value = between(knob, knob.start, end, static_cast<double>(n) / options_.steps);
      if (value != before) values.push_back(value);
      before = value;
    }
    return values;
  }

  Point changed(std::size_t k, double value) const {
    Point point = start_;
    point[k] = value;
    return point;
  }

  void look_at_singles() {
    std::vector<Point> points;
    struct Way {
      std::size_t knob;
      bool up;
      std::size_t first, count;
    };
    std::vector<Way> ways;
    for (std::size_t k = 0; k < knobs_.size(); ++k)
      for (const bool up : {false, true}) {
        const std::vector<double> values = steps(k, up);
        ways.push_back({k, up, points.size(), values.size()});
        for (const double value : values) points.push_back(changed(k, value));
      }
    const std::vector<Judged> runs = run(points);
    std::vector<Stretch> found;
    for (const Way& way : ways) {
      note_gain(way.knob, way.up, runs, way.first, way.count);
      if (auto stretch = first_good(points, runs, way.first, way.count))
        found.push_back(std::move(*stretch));
    }
    advice_.singles = sharpened(std::move(found));
    keep_smaller_way();
  }

  // What all limits that are passed lack together; a knob may help one of them while another still
  // leads.
  static double shortfall(const Judged& run) {
    double sum = 0;
    for (const Limit& limit : run.limits) sum += std::max(0.0, -limit.margin);
    return sum;
  }

  // How far a knob takes that down, and which way.
  void note_gain(std::size_t k, bool up, const std::vector<Judged>& runs, std::size_t first,
                 std::size_t count) {
    double best = -1e300;
    for (std::size_t n = first; n < first + count; ++n)
      if (runs[n].state == State::computed) best = std::max(best, -shortfall(runs[n]));
    auto& gain = gains_.try_emplace(k, -1e300, up).first->second;
    if (best > gain.first) gain = {best, up};
  }

  std::optional<Stretch> first_good(const std::vector<Point>& points,
                                    const std::vector<Judged>& runs, std::size_t first,
                                    std::size_t count) const {
    for (std::size_t n = first; n < first + count; ++n) {
      if (!runs[n].good) continue;
      std::size_t far = n;
      while (far + 1 < first + count && runs[far + 1].good) ++far;
      const bool open = far + 1 == first + count;
      return Stretch{n == first ? start_ : points[n - 1], points[n], points[far],
                     open ? points[far] : points[far + 1]};
    }
    return std::nullopt;
  }

  Point halfway(const Point& a, const Point& b) const {
    Point middle = a;
    for (std::size_t k = 0; k < knobs_.size(); ++k)
      if (!knobs_[k].is_switch && a[k] != b[k]) middle[k] = between(knobs_[k], a[k], b[k], 0.5);
    return middle;
  }

  // Halves both ends of each stretch, all of them together.
  std::vector<Remedy> sharpened(std::vector<Stretch> found) {
    for (int n = 0; n < options_.halvings; ++n) {
      std::vector<Point> points;
      std::vector<std::pair<Stretch*, bool>> asked;  // true: the near end
      for (Stretch& s : found)
        for (const bool near : {true, false}) {
          const Point &a = near ? s.bad : s.far, &b = near ? s.good : s.beyond;
          const Point middle = halfway(a, b);
          if (middle == a || middle == b) continue;
          points.push_back(middle);
          asked.emplace_back(&s, near);
        }
      const std::vector<Judged> runs = run(points);
      for (std::size_t i = 0; i < runs.size(); ++i) {
        Stretch& s = *asked[i].first;
        if (asked[i].second)
          (runs[i].good ? s.good : s.bad) = points[i];
        else
          (runs[i].good ? s.far : s.beyond) = points[i];
      }
    }
    return remedies(found);
  }

  std::vector<Remedy> remedies(const std::vector<Stretch>& found) {
    std::vector<Point> points;
    for (const Stretch& s : found) {
      points.push_back(s.good);
      points.push_back(halfway(s.good, s.far));
    }
    const std::vector<Judged> runs = run(points);
    std::vector<Remedy> list;
    for (std::size_t n = 0; n < found.size(); ++n) {
      Remedy r;
      r.least = points[2 * n];
      r.run = runs[2 * n];
      const bool aim_is_good = runs[2 * n + 1].good;
      r.aim = aim_is_good ? points[2 * n + 1] : r.least;
      r.aim_run = aim_is_good ? runs[2 * n + 1] : r.run;
      for (std::size_t k = 0; k < knobs_.size(); ++k)
        if (r.least[k] != start_[k]) r.knobs.push_back(k);
      r.size = size_of_change(knobs_, r.least);
      list.push_back(std::move(r));
    }
    return list;
  }

  void keep_smaller_way() {
    sort(advice_.singles);
    std::vector<Remedy> kept;
    for (Remedy& r : advice_.singles) {
      const bool known = std::any_of(kept.begin(), kept.end(),
                                     [&](const Remedy& other) { return other.knobs == r.knobs; });
      if (!known) kept.push_back(std::move(r));
    }
    advice_.singles = std::move(kept);
  }

  static void sort(std::vector<Remedy>& list) {
    std::stable_sort(list.begin(), list.end(),
                     [](const Remedy& a, const Remedy& b) { return a.size < b.size; });
  }

  std::vector<std::size_t> most_promising() const {
    std::vector<std::size_t> order;
    for (const auto& [k, gain] : gains_)
      if (gain.first > -shortfall(advice_.start)) order.push_back(k);
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return gains_.at(a).first > gains_.at(b).first;
    });
    if (order.size() > static_cast<std::size_t>(options_.pair_knobs))
      order.resize(static_cast<std::size_t>(options_.pair_knobs));
    return order;
  }

  double single_size(std::size_t k) const {
    for (const Remedy& r : advice_.singles)
      if (r.knobs == std::vector<std::size_t>{k}) return r.size;
    return 1e300;
  }

  std::vector<double> pair_values(std::size_t k) const {
    const std::vector<double> all = steps(k, gains_.at(k).second);
    std::vector<double> some;
    for (std::size_t n = 0; n < all.size(); n += n < 2 ? 1 : 2) some.push_back(all[n]);
    return some;
  }

  void look_at_pairs() {
    const std::vector<std::size_t> knobs = most_promising();
    std::vector<Point> points;
    std::vector<std::pair<std::size_t, std::size_t>> pairs;
    for (std::size_t a = 0; a < knobs.size(); ++a)
      for (std::size_t b = a + 1; b < knobs.size(); ++b)
        for (const double x : pair_values(knobs[a]))
          for (const double y : pair_values(knobs[b])) {
            Point point = changed(knobs[a], x);
            point[knobs[b]] = y;
            const double worth = std::min(single_size(knobs[a]), single_size(knobs[b]));
            if (size_of_change(knobs_, point) >= worth) continue;
            points.push_back(std::move(point));
            pairs.emplace_back(knobs[a], knobs[b]);
          }
    const std::vector<Judged> runs = run(points);
    std::map<std::pair<std::size_t, std::size_t>, std::size_t> smallest;
    for (std::size_t n = 0; n < runs.size(); ++n) {
      if (!runs[n].good) continue;
      const auto [at, is_new] = smallest.emplace(pairs[n], n);
      if (!is_new && size_of_change(knobs_, points[n]) < size_of_change(knobs_, points[at->second]))
        at->second = n;
    }
    std::vector<Stretch> found;
    for (const auto& [pair, n] : smallest)
      found.push_back({start_, points[n], points[n], points[n]});
    advice_.pairs = sharpened(std::move(found));
  }

  Point anywhere(const std::vector<double>& u) const {
    Point point;
    for (std::size_t k = 0; k < knobs_.size(); ++k) {
      const RemedyKnob& knob = knobs_[k];
      point.push_back(knob.is_switch ? rounded(knob, u[k])
                                     : between(knob, knob.low, knob.high, u[k]));
    }
    return point;
  }

  void look_everywhere() {
    if (knobs_.empty() || options_.dense < 1) return;
    constexpr std::size_t batch = 32;
    const auto all = even_points(static_cast<std::size_t>(options_.dense), knobs_.size());
    for (std::size_t first = 0; first < all.size(); first += batch) {
      std::vector<Point> points;
      for (std::size_t n = first; n < std::min(first + batch, all.size()); ++n)
        points.push_back(anywhere(all[n]));
      const std::vector<Judged> runs = run(points);
      std::vector<Stretch> found;
      for (std::size_t n = 0; n < runs.size(); ++n)
        if (runs[n].good) found.push_back({start_, fewer_changes(points[n]), {}, {}});
      if (found.empty()) continue;
      for (Stretch& s : found) s.far = s.beyond = s.good;
      advice_.several = sharpened(std::move(found));
      return;
    }
    advice_.dense = all.size();
  }

  // Puts back, one after the other, each knob without which it is good as well.
  Point fewer_changes(Point point) {
    for (std::size_t k = 0; k < knobs_.size(); ++k) {
      if (point[k] == start_[k]) continue;
      Point without = point;
      without[k] = start_[k];
      if (run({without}).front().good) point = std::move(without);
    }
    return point;
  }

  static double margin_of(const Judged& run, const std::string& key) {
    for (const Limit& limit : run.limits)
      if (limit.key == key) return limit.margin;
    return 1e300;  // not judged: kept
  }

  // The best least margin among the runs that keep one limit, and which other limit it belongs to.
  std::optional<Limit> best_where_kept(const std::string& kept) const {
    std::optional<Limit> best;
    for (const Judged& run : seen_) {
      if (margin_of(run, kept) < 0) continue;
      const std::vector<Limit> worst = tightest(run, 1);
      if (!worst.empty() && (!best || worst[0].margin > best->margin)) best = worst[0];
    }
    return best;
  }

  void name_the_limits() {
    const std::vector<Limit> worst = tightest(advice_.best_run, 1);
    if (worst.empty() || worst[0].margin >= 0) return;
    Exclusion e;
    e.first = worst[0].key;
    const auto other = best_where_kept(e.first);
    if (other) {
      e.second = other->key;
      e.best_second = other->margin;
      double best = -1e300;
      for (const Judged& run : seen_)
        if (margin_of(run, e.second) >= 0) best = std::max(best, margin_of(run, e.first));
      if (best > -1e300) e.best_first = best;
    } else {
      e.best_first = worst[0].margin;  // kept in no run at all
    }
    advice_.exclusion = std::move(e);
  }

  const Evaluate& evaluate_;
  const std::vector<RemedyKnob>& knobs_;
  const RemedyOptions& options_;
  Point start_;
  Advice advice_;
  std::vector<Judged> seen_;
  std::map<std::size_t, std::pair<double, bool>>
      gains_;  // least shortfall, negative, and the way to it
};

}  // namespace

double size_of_change(const std::vector<RemedyKnob>& knobs, const Point& point) {
  double size = 0;
  for (std::size_t k = 0; k < knobs.size(); ++k) {
    if (point[k] == knobs[k].start) continue;
    size +=
        knobs[k].weight * (knobs[k].is_switch ? 1 : std::abs(std::log2(point[k] / knobs[k].start)));
  }
  return size;
}

Advice advice(const Evaluate& evaluate, const std::vector<RemedyKnob>& knobs,
              const RemedyOptions& options) {
  return Searching(evaluate, knobs, options).done();
}

}  // namespace tabmelt::study
