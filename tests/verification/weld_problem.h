// A plain weld as a starting point: round metals of constant properties, fixed contacts.
#pragma once

#include <boost/math/interpolators/makima.hpp>
#include <memory>
#include <vector>

#include "solver/problem/problem.h"
#include "solver/result/result.h"

namespace tabmelt {

MaterialPtr conductor(double k, double density, double specific_heat, double resistivity);

// A rod alone in the circuit: strip and can conduct perfectly and take no heat, so that the current
// density in the rod is even and every joule stays in it. Its metal is up to the caller.
Problem lone_rod(MaterialPtr metal, double radius, double length);

// Copper rod on nickel strip on steel can with four probes on the axis (three_code_benchmark.cpp).
Problem three_code_problem();

// Value of a record's quantity at a moment, straight between steps.
template <typename History, typename Get>
double at_time(const History& history, double time, Get get) {
  std::size_t n = 0;
  while (n + 1 < history.size() && history[n].time < time) ++n;
  if (n == 0) return get(history[0]);
  const auto &a = history[n - 1], &b = history[n];
  return get(a) + (get(b) - get(a)) * (time - a.time) / (b.time - a.time);
}

// Temperature [K] of a probe between the steps, by cubics: a step may be a tenth of the time so
// far.
class ProbeCurve {
 public:
  ProbeCurve(const Result& r, std::size_t k);
  double operator()(double time) const;

 private:
  double last_;  // [s]
  boost::math::interpolators::makima<std::vector<double>> curve_;
};

}  // namespace tabmelt
