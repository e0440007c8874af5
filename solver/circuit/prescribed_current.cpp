#include "solver/circuit/prescribed_current.h"

#include <algorithm>
#include <cmath>

namespace tabmelt::circuit {
namespace {

// (1 - exp(-x)) / x, x > 0
double mean_decay(double x) { return -std::expm1(-x) / x; }

double between(const TableCurrent& table, std::size_t upper, double time) {
  const double t0 = table.time[upper - 1];
  const double t1 = table.time[upper];
  return std::lerp(table.current[upper - 1], table.current[upper], (time - t0) / (t1 - t0));
}

// Straight line from i0 to i1 over dt.
CurrentIntegrals line(double i0, double i1, double dt) {
  CurrentIntegrals sum;
  sum.charge = 0.5 * (i0 + i1) * dt;
  sum.square_current = (i0 * i0 + i0 * i1 + i1 * i1) / 3 * dt;
  if (i0 * i1 >= 0) {
    sum.absolute_charge = std::abs(sum.charge);
  } else {
    // Two triangles either side of the zero.
    sum.absolute_charge = 0.5 * dt * (i0 * i0 + i1 * i1) / (std::abs(i0) + std::abs(i1));
  }
  return sum;
}

}  // namespace

double current_at(const ExponentialCurrent& source, double since_closing) {
  if (since_closing < 0) return 0;
  return source.peak * std::exp(-since_closing / source.time_constant);
}

CurrentIntegrals integrals(const ExponentialCurrent& source, double since_closing, double dt) {
  CurrentIntegrals sum;
  if (since_closing < 0) {
    dt += since_closing;
    since_closing = 0;
  }
  if (!(dt > 0)) return sum;
  const double start = current_at(source, since_closing);
  const double x = dt / source.time_constant;
  sum.charge = start * dt * mean_decay(x);
  sum.absolute_charge = std::abs(sum.charge);
  sum.square_current = start * start * dt * mean_decay(2 * x);
  return sum;
}

double current_at(const TableCurrent& table, double time) {
  const auto upper = std::upper_bound(table.time.begin(), table.time.end(), time);
  if (upper == table.time.begin() || upper == table.time.end()) return 0;
  return between(table, static_cast<std::size_t>(upper - table.time.begin()), time);
}

double current_before(const TableCurrent& table, double time) {
  const auto upper = std::lower_bound(table.time.begin(), table.time.end(), time);
  if (upper == table.time.begin() || upper == table.time.end()) return 0;
  return between(table, static_cast<std::size_t>(upper - table.time.begin()), time);
}

CurrentIntegrals integrals(const TableCurrent& table, double time, double dt) {
  CurrentIntegrals sum;
  const double end = time + dt;
  const auto first = std::upper_bound(table.time.begin(), table.time.end(), time);
  for (auto upper = static_cast<std::size_t>(first - table.time.begin());
       upper < table.time.size() && (upper == 0 || table.time[upper - 1] < end); ++upper) {
    if (upper == 0) continue;
    const bool from_start = time > table.time[upper - 1];
    const bool to_end = end < table.time[upper];
    const double a = from_start ? time : table.time[upper - 1];
    const double b = to_end ? end : table.time[upper];
    // A step within one stretch keeps its own length: the difference of two times loses digits.
    const double length = from_start && to_end ? dt : b - a;
    const CurrentIntegrals part = line(between(table, upper, a), between(table, upper, b), length);
    sum.charge += part.charge;
    sum.absolute_charge += part.absolute_charge;
    sum.square_current += part.square_current;
  }
  return sum;
}

}  // namespace tabmelt::circuit
