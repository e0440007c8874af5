// The solver against the plain reference implementation, step by step over the same steps.
// Catches: any change that makes the solver faster and its answers different.
#include "tests/bench/plain/plain_weld.h"

#include <gtest/gtest.h>

#include <random>

#include "io/case/read_case.h"
#include "solver/solve.h"
#include "tests/bench/bench_cases.h"
#include "tests/bench/plain/plain_multigrid.h"

namespace tabmelt::bench {
namespace {

// The iterations stop far below the agreement asked for.
Problem tight(Problem p) {
  p.numerics.newton_tolerance = 1e-9;
  p.numerics.linear_tolerance = 1e-13;
  p.numerics.step_tolerance = 4e-3;
  p.numerics.resolution = 0.6;
  return p;
}

void expect_same(const Problem& problem) {
  const Result fast = solve(problem);
  ASSERT_EQ(fast.ending, Ending::finished);
  ASSERT_GT(fast.history.size(), 20u);
  PlainWeld plain(problem);
  const double ambient = problem.boundary.ambient;
  std::vector<double> resistances;  // [ohm] at the middle of each step
  for (const StepRecord& s : fast.history) {
    plain.step(s.step);
    ASSERT_NEAR(plain.time(), s.time, 1e-12 * s.time);
    resistances.push_back(plain.resistance() * problem.arrangement.spots);
    EXPECT_NEAR(plain.peak_temperature() - ambient, s.peak_temperature - ambient,
                1e-8 * (s.peak_temperature - ambient));
    EXPECT_NEAR(plain.energy_in(), s.energy_in, 1e-8 * s.energy_in);
    EXPECT_NEAR(plain.energy_stored(), s.energy_stored, 1e-8 * s.energy_in);
    EXPECT_NEAR(plain.energy_out(), s.energy_out, 1e-8 * s.energy_in);
  }
  for (std::size_t n = 1; n + 1 < resistances.size(); ++n) {
    const StepRecord &s = fast.history[n], &next = fast.history[n + 1];
    if (next.load_resistance <= 0) break;
    const double at_end =
        (next.step * resistances[n] + s.step * resistances[n + 1]) / (s.step + next.step);
    EXPECT_NEAR(at_end, s.load_resistance, 1e-8 * s.load_resistance);
  }
}

TEST(PlainWeld, agrees_to_1e_8_with_constant_properties) {
  expect_same(tight(shipped_case("three-code-benchmark").problem));
}

TEST(PlainWeld, agrees_to_1e_8_with_real_metals_that_melt) {
  Problem p = tight(melting_benchmark());
  const Result fast = solve(p);
  ASSERT_GT(fast.sheets[0].penetration.value + fast.sheets[1].penetration.value, 0)
      << "nothing melts";
  expect_same(p);
}

// Wherever the electrode's edge falls among the pairs of columns that coarser grids join. An empty
// cell that kept heat would hold its whole pair: eight iterations instead of three.
TEST(PlainWeld, heat_takes_few_linear_iterations_on_any_grid) {
  Problem p = shipped_case("three-code-benchmark").problem;
  p.numerics.step_tolerance = 4e-3;
  for (const double resolution : {1.0, 1.4, 1.8, 2.2, 2.5}) {
    p.numerics.resolution = resolution;
    int linear = 0, newton = 0;
    for (const StepRecord& s : solve(p).history) {
      linear += s.linear_iterations;
      newton += s.newton_iterations;
    }
    ASSERT_GT(newton, 20);
    EXPECT_LT(linear, 4 * newton) << "resolution " << resolution;
  }
}

// Scattered conductances, odd and even numbers of columns.
TEST(PlainMultigrid, takes_the_iterations_of_the_fast_one_to_the_same_answer) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> decade(-1, 1);
  for (const std::size_t columns : {1U, 2U, 9U, 40U, 61U}) {
    const std::size_t rows = 33;
    const auto n = static_cast<Eigen::Index>(columns * rows);
    FaceConductances faces{columns, rows, Field::Zero(n), Field::Zero(n), Field::Zero(n)};
    Field diagonal(n), b(n);
    for (Eigen::Index c = 0; c < n; ++c) {
      const auto i = static_cast<std::size_t>(c) % columns,
                 j = static_cast<std::size_t>(c) / columns;
      if (i + 1 < columns) faces.radial[c] = std::pow(10, decade(random));
      if (j + 1 < rows) faces.axial[c] = std::pow(10, decade(random));
      diagonal[c] = 0.1;
      b[c] = decade(random);
    }
    LineMultigrid fast;
    PlainMultigrid plain;
    fast.set_operator(faces, diagonal);
    plain.set_operator(faces, diagonal);
    Field x = Field::Zero(n), y = Field::Zero(n);
    const LinearOutcome first = fast.solve(b, 1e-10, 200, x),
                        second = plain.solve(b, 1e-10, 200, y);
    EXPECT_TRUE(first.converged) << columns << " fast";
    EXPECT_TRUE(second.converged) << columns << " plain";
    EXPECT_LE(std::abs(first.iterations - second.iterations), 1) << columns;
    EXPECT_LE((x - y).abs().maxCoeff(), 1e-7 * x.abs().maxCoeff()) << columns;
  }
}

}  // namespace
}  // namespace tabmelt::bench
