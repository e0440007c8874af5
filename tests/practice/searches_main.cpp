// Which search comes to the unknowns of a recorded weld with the fewest runs: least squares with
// slopes from differences (solver/inference/least_squares.h), or BOBYQA, which goes by a parabola
// through points and needs no slopes (M. J. D. Powell, report NA2009/06, Cambridge; by NLopt). The
// start of the record and its zeros, which cost no run, are fitted anew at each of its points.
//
//   practice_searches [BENCH] [COUNT] [RESOLUTION]     a line per record and search, then the means
//
// BENCH: bar, current, three, bank (fits.cpp).
#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <nlopt.hpp>

#include "solver/inference/trace_residuals.h"
#include "tests/practice/fits.h"

namespace {

using namespace tabmelt;
using namespace tabmelt::practice;
using inference::TraceResiduals;
using Point = std::vector<double>;

constexpr int most_steps = 36;      // of least squares, as in three rounds of a fit
constexpr int most_trials = 300;    // of BOBYQA
constexpr double first_step = 0.1;  // of an unknown's scale
constexpr double tolerance = 1e-6;  // [1] of the sum, in both

struct Found {
  Point values;
  double square = 0;  // sum of the squared residuals over their number
  std::size_t runs = 0;
};

double mean_square(const std::vector<double>& residuals) {
  double sum = 0, count = 0;
  for (const double r : residuals) {
    sum += r * r;
    count += r != 0 ? 1 : 0;
  }
  return sum / std::max(count, 1.0);
}

std::vector<inference::Record> records_of(const FitStudy& fitting) {
  std::vector<inference::Record> records;
  for (const FitRecord& r : fitting.records()) records.push_back(r.record);
  return records;
}

// Starts of the records where the model at the starting point has them.
void place(TraceResiduals& residuals, const inference::Curves& model) {
  Point start;
  for (const inference::Unknown& u : residuals.unknowns()) start.push_back(u.start);
  residuals.place_starts(model({residuals.physical_part(start)}).front());
}

Found by_slopes(Welder& welder) {
  FitStudy& fitting = welder.fitting();
  const inference::Curves model = fitting.model();
  const auto records = records_of(fitting);
  TraceResiduals residuals(model, fitting.bounds(), records, 0);
  place(residuals, model);
  const auto found = inference::least_squares(
      [&](const Point& x, bool slopes) { return residuals.linearised(x, slopes); },
      residuals.unknowns(), most_steps);
  return {residuals.physical_part(found.best), mean_square(found.residuals), welder.runs()};
}

Found by_parabola(Welder& welder) {
  FitStudy& fitting = welder.fitting();
  const inference::Curves model = fitting.model();
  const auto records = records_of(fitting);
  const std::vector<inference::Unknown> bounds = fitting.bounds();
  TraceResiduals::CurvePtrs here;
  // At the point in hand, whatever the physical unknowns say: what costs no run is fitted alone.
  const inference::Curves held = [&](const std::vector<Point>& points) {
    return std::vector(points.size(), here);
  };
  TraceResiduals residuals(held, bounds, records, 0);
  here = model({[&] {
           Point start;
           for (const auto& u : bounds) start.push_back(u.start);
           return start;
         }()})
             .front();
  residuals.place_starts(here);
  const auto cost = [&](const Point& scaled) {
    Point point = scaled;
    for (std::size_t i = 0; i < point.size(); ++i) point[i] *= bounds[i].scale;
    here = model({point}).front();
    for (const auto& curve : here)
      if (!curve) return 1e9;
    const auto best = inference::least_squares(
        [&](const Point& x, bool slopes) { return residuals.linearised(x, slopes); },
        residuals.unknowns(), most_steps);
    for (std::size_t i = residuals.physical(); i < best.best.size(); ++i)
      residuals.unknowns()[i].start = best.best[i];
    return mean_square(best.residuals);
  };
  nlopt::opt search(nlopt::LN_BOBYQA, static_cast<unsigned>(bounds.size()));
  Point low, high, x;
  for (const auto& u : bounds) {
    low.push_back(u.low / u.scale);
    high.push_back(u.high / u.scale);
    x.push_back(u.start / u.scale);
  }
  search.set_lower_bounds(low);
  search.set_upper_bounds(high);
  search.set_initial_step(first_step);
  search.set_ftol_rel(tolerance);
  search.set_xtol_rel(1e-5);
  search.set_maxeval(most_trials);
  using Cost = std::decay_t<decltype(cost)>;
  search.set_min_objective(
      [](const Point& at, Point&, void* data) { return (*static_cast<const Cost*>(data))(at); },
      const_cast<void*>(static_cast<const void*>(&cost)));
  Found found;
  try {
    search.optimize(x, found.square);
  } catch (const nlopt::roundoff_limited&) {  // as good as it gets
  }
  for (std::size_t i = 0; i < x.size(); ++i) found.values.push_back(x[i] * bounds[i].scale);
  found.runs = welder.runs();
  return found;
}

struct Tally {
  double runs = 0, square = 0, off = 0;
};

void print(int n, const char* name, const Found& found, const Point& truth, Tally& tally) {
  fmt::print("{:3} {:14} {:4} runs  mean square {:8.4f}  off by", n, name, found.runs,
             found.square);
  double off = 0;
  for (std::size_t i = 0; i < truth.size(); ++i) {
    fmt::print(" {:+.2f} %", 100 * (found.values[i] / truth[i] - 1));
    off += std::pow(found.values[i] / truth[i] - 1, 2) / static_cast<double>(truth.size());
  }
  fmt::print("\n");
  std::fflush(stdout);
  tally.runs += static_cast<double>(found.runs);
  tally.square += found.square;
  tally.off += off;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string name = argc > 1 ? argv[1] : "three";
  const int count = argc > 2 ? std::atoi(argv[2]) : 8;
  const double resolution = argc > 3 ? std::atof(argv[3]) : 0.4;
  Tally slopes, parabola;
  for (int n = 0; n < count; ++n) {
    const auto seed = static_cast<std::uint64_t>(n + 1);
    Welder one(bench_of(name), seed, resolution), other(bench_of(name), seed, resolution);
    print(n, "least squares", by_slopes(one), one.truth(), slopes);
    print(n, "BOBYQA", by_parabola(other), other.truth(), parabola);
  }
  for (const auto& [search, tally] : {std::pair("least squares", slopes), {"BOBYQA", parabola}})
    fmt::print("{:14} {:6.1f} runs  mean square {:.4f}  off by {:.2f} % r.m.s.\n", search,
               tally.runs / count, tally.square / count, 100 * std::sqrt(tally.off / count));
}
