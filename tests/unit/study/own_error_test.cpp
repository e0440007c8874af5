// The estimate of a run's own error beside its true error.
#include "solver/study/own_error.h"

#include <gtest/gtest.h>

#include "io/case/read_case.h"
#include "solver/solve.h"
#include "solver/study/refinement.h"

namespace tabmelt {
namespace {

// Without jumps the scheme is of second order, and the estimate, which holds a safety of 1.5, is
// within a factor of two of 1.5 errors.
TEST(OwnError, of_a_smooth_problem_is_its_error_with_safety) {
  Problem p = read_case(TABMELT_SOURCE_DIR "/cases/three-code-benchmark/case.toml").problem;
  p.numerics.resolution = 0.7;
  p.numerics.step_tolerance = 1e-3;
  const Result own = solve(p);
  const std::vector<Figure> exact = judged_figures(p, solve(refined(p, 4)));
  int compared = 0;
  for (const FigureError& e : own_errors(p, own))
    for (const Figure& f : exact) {
      if (f.name != e.name || f.unit == "A") continue;
      const double error = std::abs(e.value - f.value);
      // Too small for the time steps not to show.
      if (error < 1e-3 * (f.value - f.origin)) continue;
      ++compared;
      EXPECT_GT(e.error, 0.75 * error) << f.name;
      EXPECT_LT(e.error, 3 * error) << f.name;
    }
  EXPECT_GT(compared, 0);
}

TEST(OwnError, leaves_out_what_is_zero) {
  Problem p = read_case(TABMELT_SOURCE_DIR "/cases/saw-cut-off/case.toml").problem;
  p.numerics.resolution = 0.5;
  for (const FigureError& e : own_errors(p, solve(p))) {
    EXPECT_NE(e.name, "nugget diameter");
    EXPECT_GE(e.error, 0);
    EXPECT_TRUE(std::isfinite(e.relative()));
  }
}

}  // namespace
}  // namespace tabmelt
