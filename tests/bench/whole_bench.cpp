// Whole cases: at three resolutions, against the plain reference implementation, and a map of many.
#include <benchmark/benchmark.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>

#include <chrono>

#include "io/command/side_by_side.h"
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

// Whole pulses on finer and finer grids: the time of one step per cell, all attempts counted. Steps
// are chosen by accuracy as in any run.
void growth(benchmark::State& state, Problem p) {
  p.numerics.resolution = 0.01 * static_cast<double>(state.range(0));
  p.numerics.step_tolerance = 1e-3;
  Result r;
  for (auto _ : state) r = solve(p);
  const double attempts = static_cast<double>(r.history.size()) + r.rejected_steps;
  state.counters["cells"] = static_cast<double>(r.grid.cells());
  state.counters["attempts"] = attempts;
  state.counters["ns_per_cell_step"] =
      1e9 * r.cpu_seconds / (static_cast<double>(r.grid.cells()) * attempts);
}
void growth_weld(benchmark::State& state) {
  growth(state, shipped_case("trimmer-negative").problem);
}
void growth_constant(benchmark::State& state) {
  growth(state, shipped_case("three-code-benchmark").problem);
}

// One weld, solved directly and as the only one of the program's many-case machinery.
void one_weld(benchmark::State& state) {
  const Problem p = shipped_case("trimmer-negative").problem;
  for (auto _ : state) benchmark::DoNotOptimize(solve(p).joints[0].nugget.value);
}
void one_weld_of_many(benchmark::State& state) {
  const Problem p = shipped_case("trimmer-negative").problem;
  for (auto _ : state)
    command::side_by_side(
        1,
        [&](std::size_t) {
          benchmark::DoNotOptimize(solve(p).joints[0].nugget.value);
          return command::Answer{};
        },
        [](std::size_t, const command::Answer&) {});
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
      benchmark::DoNotOptimize(solve(p).joints[0].nugget.value);
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
BENCHMARK(growth_constant)
    ->ArgName("percent")
    ->Arg(120)
    ->Arg(250)
    ->Arg(500)
    ->Arg(1180)
    ->Unit(benchmark::kMillisecond);
BENCHMARK(growth_weld)
    ->ArgName("percent")
    ->Arg(63)
    ->Arg(100)
    ->Arg(200)
    ->Arg(400)
    ->Arg(624)
    ->Iterations(1)
    ->Unit(benchmark::kMillisecond);
BENCHMARK(one_weld)->UseRealTime()->Unit(benchmark::kMillisecond);
BENCHMARK(one_weld_of_many)->UseRealTime()->Unit(benchmark::kMillisecond);
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
