// Time of each part of a step, from 2 000 to 200 000 cells. The argument is the number of cells
// asked for; `cells` is what the grid has, `ns_per_cell` the time of one call per cell.
#include <benchmark/benchmark.h>
#include <malloc.h>
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <utility>

#include "io/store/result_writer.h"
#include "solver/coupling/pulse_step.h"
#include "solver/solve.h"
#include "solver/verdict/verdict.h"
#include "tests/bench/bench_cases.h"

namespace tabmelt::bench {
namespace {

void count_cells(benchmark::State& state, std::size_t cells) {
  state.counters["cells"] = static_cast<double>(cells);
  // Inverse rates come out in seconds; the factor makes them nanoseconds.
  state.counters["ns_per_cell"] = benchmark::Counter(
      1e-9 * static_cast<double>(cells),
      benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

double bytes_in_use() {
  const struct mallinfo2 m = mallinfo2();
  return static_cast<double>(m.uordblks) + static_cast<double>(m.hblkhd);
}

// A weld some steps into its pulse, in the state its solver is in then.
struct Weld {
  explicit Weld(std::size_t cells)
      : problem(weld_of_size(cells)),
        before(bytes_in_use()),
        model(build_model(problem)),
        loop(problem.circuit),
        pulse(problem, model, loop),
        state(pulse.initial_state()) {
    state.loop = loop.close_switch(state.loop);
    StepAttempt next;
    for (int n = 0; n < 12; ++n) {
      pulse.attempt(state, dt, next);
      std::swap(state, next.state);
    }
    bytes = bytes_in_use() - before;
  }
  static constexpr double dt = 5e-6;
  Problem problem;
  double before, bytes = 0;
  WeldModel model;
  circuit::Loop loop;
  PulseStep pulse;
  WeldState state;
};

void grid_build(benchmark::State& state) {
  const Problem problem = weld_of_size(static_cast<std::size_t>(state.range(0)));
  std::size_t cells = 0;
  for (auto _ : state) {
    const WeldModel model = build_model(problem);
    cells = model.grid.cells();
    benchmark::DoNotOptimize(model.grid.volume(0));
  }
  count_cells(state, cells);
}

void operator_and_set_up(benchmark::State& state) {
  const Weld weld(static_cast<std::size_t>(state.range(0)));
  const mesh::AxisymmetricGrid& grid = weld.model.grid;
  FaceConductances faces;
  const Field none = Field::Zero(static_cast<Eigen::Index>(grid.cells()));
  LineMultigrid linear;
  for (auto _ : state) {
    set_faces(grid, {0, grid.nz()}, weld.pulse.spot(0).k_axial(), weld.pulse.spot(0).k_axial(),
              faces);
    linear.set_operator(faces, none + 1.0);
  }
  count_cells(state, grid.cells());
}

// Cold start to six digits; iterations are those of one solve.
void potential_solve(benchmark::State& state) {
  const Weld weld(static_cast<std::size_t>(state.range(0)));
  std::vector<std::vector<double>> g;
  for (const ContactPlane& plane : weld.model.planes) g.emplace_back(plane.columns, 1e8);
  double iterations = 0;
  for (auto _ : state) {
    state.PauseTiming();
    Potential potential(weld.model.grid, weld.model.current_rows, weld.model.planes,
                        weld.model.rims);
    state.ResumeTiming();
    iterations = potential.solve(weld.pulse.spot(0).sigma(), g, 1e-6).iterations;
  }
  state.counters["iterations"] = iterations;
  count_cells(state, weld.model.grid.cells());
}

// One step of the heat balance without current, from a field in full heat.
void heat_step(benchmark::State& state) {
  Weld weld(static_cast<std::size_t>(state.range(0)));
  const mesh::AxisymmetricGrid& grid = weld.model.grid;
  FaceConductances faces;
  set_faces(grid, {0, grid.nz()}, weld.pulse.spot(0).k_axial(), weld.pulse.spot(0).k_axial(),
            faces);
  HeatStep step(grid, weld.pulse.spot(0).heat_step().laws(), {0.02, 30, 200});
  HeatStepOutcome outcome;
  const SpotState& now = weld.state.spots[0];
  Field H, T, rate;
  for (auto _ : state)
    outcome =
        step.advance(faces, now.heat, 0, 293.15, Weld::dt, now.H, now.T, now.rate, H, T, rate);
  state.counters["newton"] = outcome.newton_iterations;
  state.counters["linear"] = outcome.linear_iterations;
  count_cells(state, grid.cells());
}

// One whole coupled step, and the memory that the solver holds for it.
void coupled_step(benchmark::State& state) {
  Weld weld(static_cast<std::size_t>(state.range(0)));
  StepAttempt attempt;
  for (auto _ : state) weld.pulse.attempt(weld.state, Weld::dt, attempt);
  state.counters["newton"] = attempt.newton_iterations;
  state.counters["coupling"] = attempt.coupling_iterations;
  state.counters["linear"] = attempt.linear_iterations;
  const auto cells = static_cast<double>(weld.model.grid.cells());
  state.counters["bytes_per_cell"] = weld.bytes / cells;
  count_cells(state, weld.model.grid.cells());
}

void circuit_step(benchmark::State& state) {
  const Problem problem = shipped_case("trimmer-negative").problem;
  const circuit::Loop loop(problem.circuit);
  const circuit::LoopState closed = loop.close_switch(loop.initial_state());
  for (auto _ : state) benchmark::DoNotOptimize(loop.advance(closed, 5e-6, 2e-3));
}

// The time a step cannot beat: a = b + s c over arrays of the step's size, 24 bytes a number.
void triad(benchmark::State& state) {
  const auto n = static_cast<Eigen::Index>(state.range(0));
  Eigen::ArrayXd a = Eigen::ArrayXd::Zero(n), b = Eigen::ArrayXd::Ones(n),
                 c = Eigen::ArrayXd::Ones(n);
  for (auto _ : state) {
    a = b + 0.5 * c;
    benchmark::DoNotOptimize(a.data());
    benchmark::ClobberMemory();
  }
  state.SetBytesProcessed(state.iterations() * 24 * n);
}

void result_writing(benchmark::State& state) {
  const Case asked = shipped_case("three-code-benchmark");
  struct Keep : Observer {
    std::vector<Frame> frames;
    void frame_taken(const Frame& f) override { frames.push_back(f); }
  } keep;
  const Result result = solve(asked.problem, &keep);
  const Verdict answer = judge(asked.problem, result);
  const std::filesystem::path folder =
      std::filesystem::temp_directory_path() / ("tabmelt-bench-" + std::to_string(getpid()));
  for (auto _ : state) {
    ResultWriter writer(folder, asked);
    writer.begins(result);
    for (const StepRecord& s : result.history) writer.step_done(s, 0.5);
    for (const Frame& f : keep.frames) writer.frame_taken(f);
    writer.finish(result, answer);
    state.PauseTiming();
    std::filesystem::remove_all(folder);
    state.ResumeTiming();
  }
  state.counters["frames"] = static_cast<double>(keep.frames.size());
}

void sizes(benchmark::internal::Benchmark* b) {
  b->ArgName("cells")->Unit(benchmark::kMicrosecond);
  for (const int n : {2000, 6000, 20000, 60000, 200000}) b->Arg(n);
}

BENCHMARK(grid_build)->Apply(sizes);
BENCHMARK(operator_and_set_up)->Apply(sizes);
BENCHMARK(potential_solve)->Apply(sizes);
BENCHMARK(heat_step)->Apply(sizes);
BENCHMARK(coupled_step)->Apply(sizes);
BENCHMARK(circuit_step);
BENCHMARK(triad)->RangeMultiplier(10)->Range(2000, 20000000);
BENCHMARK(result_writing)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace tabmelt::bench

BENCHMARK_MAIN();
