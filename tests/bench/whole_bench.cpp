// Whole cases: at three resolutions, against the plain reference implementation, and a map of many.
#include <benchmark/benchmark.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>

#include <chrono>

#include "solver/solve.h"
#include "tests/bench/bench_cases.h"
#include "tests/bench/plain/plain_weld.h"

namespace tabmelt::bench {
namespace {

// Resolution in hundredths of the default rule.
void whole(benchmark::State& state, Problem p) {
  p.numerics.resolution = 0.01 * static_cast<double>(state.range(0));
  p.numerics.step_tolerance = 1e-3;
  Result r;
  for (auto _ : state) r = solve(p);
  state.counters["cells"] = static_cast<double>(r.grid.cells());
  state.counters["steps"] = static_cast<double>(r.history.size());
  state.counters["rejected"] = r.rejected_steps;
}

void trimmer_negative(benchmark::State& state) {
  whole(state, shipped_case("trimmer-negative").problem);
}
void three_code_benchmark(benchmark::State& state) {
  whole(state, shipped_case("three-code-benchmark").problem);
}
void three_code_benchmark_with_melting(benchmark::State& state) {
  whole(state, melting_benchmark());
}

// The same steps on the same grid.
void melting_by_plain_weld(benchmark::State& state) {
  Problem p = melting_benchmark();
  p.numerics.resolution = 0.01 * static_cast<double>(state.range(0));
  p.numerics.step_tolerance = 1e-3;
  const Result r = solve(p);
  for (auto _ : state) {
    PlainWeld plain(p);
    for (const StepRecord& s : r.history) plain.step(s.step);
  }
  state.counters["cells"] = static_cast<double>(r.grid.cells());
  state.counters["steps"] = static_cast<double>(r.history.size());
}

// Twenty default welds of different charge, side by side; minutes_for_1000 is extrapolated.
void map_of_welds(benchmark::State& state) {
  const tbb::global_control threads(tbb::global_control::max_allowed_parallelism,
                                    static_cast<std::size_t>(state.range(0)));
  const Problem base = shipped_case("trimmer-negative").problem;
  const double charge = std::get<circuit::CapacitorBank>(base.circuit.source).charge_voltage;
  constexpr int cases = 20;
  const auto start = std::chrono::steady_clock::now();
  for (auto _ : state) {
    tbb::parallel_for(0, cases, [&](int n) {
      Problem p = base;
      std::get<circuit::CapacitorBank>(p.circuit.source).charge_voltage =
          charge * (0.8 + 0.4 * n / cases);
      benchmark::DoNotOptimize(solve(p).nugget.value);
    });
  }
  const std::chrono::duration<double> wall = std::chrono::steady_clock::now() - start;
  state.counters["minutes_for_1000"] =
      wall.count() / static_cast<double>(state.iterations()) * 1000 / cases / 60;
}

BENCHMARK(trimmer_negative)
    ->ArgName("percent")
    ->Arg(70)
    ->Arg(100)
    ->Arg(140)
    ->Unit(benchmark::kMillisecond);
BENCHMARK(three_code_benchmark)
    ->ArgName("percent")
    ->Arg(70)
    ->Arg(100)
    ->Arg(200)
    ->Unit(benchmark::kMillisecond);
BENCHMARK(three_code_benchmark_with_melting)
    ->ArgName("percent")
    ->Arg(70)
    ->Arg(100)
    ->Arg(200)
    ->Unit(benchmark::kMillisecond);
BENCHMARK(melting_by_plain_weld)
    ->ArgName("percent")
    ->Arg(70)
    ->Arg(100)
    ->Unit(benchmark::kMillisecond);
BENCHMARK(map_of_welds)
    ->ArgName("threads")
    ->Arg(1)
    ->Arg(2)
    ->UseRealTime()
    ->Iterations(1)
    ->Unit(benchmark::kSecond);

}  // namespace
}  // namespace tabmelt::bench

BENCHMARK_MAIN();
