#include "solver/search/least_cost.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <nlopt.hpp>
#include <stdexcept>

namespace tabmelt::study {
namespace {

// The search has used up its trials, or the study was stopped.
struct Ended {};

class Market {
 public:
  Market(const std::function<std::optional<Trial>(const Point&)>& assess,
         const std::vector<DesignRange>& ranges, std::size_t most)
      : assess_(assess), ranges_(ranges), most_(most) {}

  LeastCost done() {
    allowed_ = std::max<std::size_t>(1, most_ - most_ / 3);
    run(nlopt::GN_ORIG_DIRECT_L, std::vector<double>(ranges_.size(), 0.5));
    allowed_ = most_;
    if (!stopped_) run(nlopt::LN_COBYLA, unit(best_.best));
    best_.trials = known_.size();
    best_.complete = !stopped_;
    return best_;
  }

 private:
  Point at(const std::vector<double>& u) const {
    Point point;
    for (std::size_t k = 0; k < ranges_.size(); ++k) {
      const DesignRange& range = ranges_[k];
      const double share = std::clamp(u[k], 0.0, 1.0);
      const double value = range.low + share * (range.high - range.low);
      point.push_back(range.whole ? std::round(value) : value);
    }
    return point;
  }

  std::vector<double> unit(const Point& point) const {
    std::vector<double> u;
    for (std::size_t k = 0; k < ranges_.size(); ++k)
      u.push_back((point[k] - ranges_[k].low) / (ranges_[k].high - ranges_[k].low));
    return u;
  }

  static bool better(const Trial& a, const Trial& b) {
    if (a.shortfall > 0 || b.shortfall > 0)
      return a.shortfall != b.shortfall ? a.shortfall < b.shortfall : a.cost < b.cost;
    return a.cost < b.cost;
  }

  const Trial& trial(const std::vector<double>& u) {
    const Point point = at(u);
    const auto found = known_.find(point);
    if (found != known_.end()) {
      // An algorithm that only walks over what is known already would go on for ever.
      if (++repeats_ > 50 * most_) throw Ended{};
      return found->second;
    }
    if (known_.size() >= allowed_) throw Ended{};
    const auto made = assess_(point);
    stopped_ = !made;
    if (stopped_) throw Ended{};
    if (known_.empty() || better(*made, best_.trial)) {
      best_.best = point;
      best_.trial = *made;
      best_.found = !(made->shortfall > 0);
    }
    return known_.emplace(point, *made).first->second;
  }

  // Until something is good enough its lack is the cost.
  double objective(const std::vector<double>& u) {
    const Trial& t = trial(u);
    return lacking_ ? t.shortfall : t.cost;
  }

  void run(nlopt::algorithm algorithm, const std::vector<double>& from) {
    const bool local = algorithm == nlopt::LN_COBYLA;
    lacking_ = local && !best_.found;
    nlopt::opt search(algorithm, static_cast<unsigned>(ranges_.size()));
    search.set_lower_bounds(0.0);
    search.set_upper_bounds(1.0);
    const auto cost = [](const std::vector<double>& u, std::vector<double>&, void* self) {
      return static_cast<Market*>(self)->objective(u);
    };
    const auto lack = [](const std::vector<double>& u, std::vector<double>&, void* self) {
      return static_cast<Market*>(self)->trial(u).shortfall;
    };
    search.set_min_objective(cost, this);
    if (!lacking_) search.add_inequality_constraint(lack, this, 0);
    if (local) {
      search.set_initial_step(0.08);
      search.set_xtol_abs(1e-4);
    }
    search.set_maxeval(static_cast<int>(20 * most_));
    std::vector<double> u = from;
    double least = 0;
    try {
      search.optimize(u, least);
    } catch (const Ended&) {
    } catch (const nlopt::roundoff_limited&) {
    } catch (const std::runtime_error&) {
      // DIRECT reports a range of points that all lack something as a failure; what was tried
      // counts.
    }
  }

  const std::function<std::optional<Trial>(const Point&)>& assess_;
  const std::vector<DesignRange>& ranges_;
  std::size_t most_, allowed_ = 0, repeats_ = 0;
  bool lacking_ = false, stopped_ = false;
  std::map<Point, Trial> known_;
  LeastCost best_;
};

}  // namespace

LeastCost least_cost(const std::function<std::optional<Trial>(const Point&)>& assess,
                     const std::vector<DesignRange>& ranges, std::size_t trials) {
  if (ranges.empty() || trials == 0) throw std::invalid_argument("least_cost(): nothing to vary");
  for (const DesignRange& range : ranges)
    if (!(range.low < range.high)) throw std::invalid_argument("least_cost(): an empty range");
  return Market(assess, ranges, trials).done();
}

}  // namespace tabmelt::study
