// Fits records whose truth is known and counts how often it lies within the stated errors.
//
//   practice_fits [BENCH] [COUNT] [RESOLUTION]     one line per fit, then a line per unknown
//
// BENCH: bar, current, three, bank (fits.cpp).
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>

#include "tests/practice/fits.h"

namespace {

using namespace tabmelt;
using namespace tabmelt::practice;

struct Tally {
  int one = 0, two = 0;
  double worst = 0, square = 0, error = 0, missed = 0;
  void add(double value, double truth, double stated) {
    const double off = std::abs(value - truth) / stated;
    one += off < 1 ? 1 : 0;
    two += off < 1.96 ? 1 : 0;
    worst = std::max(worst, off);
    square += off * off;
    error += stated / truth;
    missed += std::abs(value - truth) / truth;
  }
};

}  // namespace

int main(int argc, char** argv) {
  const Bench& bench = bench_of(argc > 1 ? argv[1] : "three");
  const int count = argc > 2 ? std::atoi(argv[2]) : 20;
  const double resolution = argc > 3 ? std::atof(argv[3]) : 0.5;
  std::vector<Tally> tallies(bench.unknowns.size());
  int fitted = 0, matching = 0, settled = 0;
  std::size_t runs = 0;
  const auto start = std::chrono::steady_clock::now();
  for (int n = 0; n < count; ++n) {
    Welder welder(bench, static_cast<std::uint64_t>(n + 1), resolution);
    const inference::TraceFit fit = welder.fitting().fit();
    runs += welder.runs();
    fmt::print("{:3} {:4} runs{}{}", n, welder.runs(), fit.converged ? "" : " unsettled",
               fit.matches ? "" : fmt::format(" no match, stretched {:.2f}", fit.stretch));
    if (!fit.computed) continue;
    ++fitted;
    matching += fit.matches ? 1 : 0;
    settled += fit.converged ? 1 : 0;
    for (std::size_t i = 0; i < tallies.size(); ++i) {
      const double truth = welder.truth()[i];
      tallies[i].add(fit.values[i], truth, fit.errors[i]);
      fmt::print("  {:+.2f} ({:+.2f} %)", (fit.values[i] - truth) / fit.errors[i],
                 100 * (fit.values[i] / truth - 1));
    }
    fmt::print("\n");
    std::fflush(stdout);
  }
  const double seconds =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  fmt::print("{} of {} fitted, {} settled, {} match; {} runs, {:.0f} s\n", fitted, count, settled,
             matching, runs, seconds);
  for (std::size_t i = 0; i < tallies.size(); ++i) {
    const Tally& t = tallies[i];
    const double n = std::max(fitted, 1);
    fmt::print(
        "{:28} within 1: {:5.1f} %  within 1.96: {:5.1f} %  largest {:5.2f}  rms {:5.2f}  "
        "stated error {:.3f} %  missed by {:.3f} %\n",
        bench.unknowns[i], 100 * t.one / n, 100 * t.two / n, t.worst, std::sqrt(t.square / n),
        100 * t.error / n, 100 * t.missed / n);
  }
}
