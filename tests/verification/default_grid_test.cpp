// Is the default grid and step fine enough? The main demo case, full physics, against itself on
// half the cell size with a third of the step tolerance. Catches a grid rule or a tolerance that
// trades accuracy for speed, and any ratchet in the contacts that feeds on step noise.
//
// How far each demo is from finer grids stands in the README.
#include <gtest/gtest.h>

#include <algorithm>

#include "io/case/read_case.h"
#include "solver/solve.h"

namespace tabmelt {
namespace {

double relative(double value, double reference, double start = 0) {
  return std::abs(value - reference) / (reference - start);
}

double top_when_switched_off(const Result& r) {
  const auto after = std::find_if(r.history.begin(), r.history.end(),
                                  [](const StepRecord& s) { return s.time > 0.9999e-3; });
  return after->top_temperature;
}

TEST(DefaultGrid, agrees_with_half_the_cell_size_and_a_third_of_the_tolerance) {
  Case asked = read_case(TABMELT_SOURCE_DIR "/cases/trimmer-negative/case.toml");
  const Result standard = solve(asked.problem);
  asked.problem.numerics.resolution = 2;
  asked.problem.numerics.step_tolerance /= 3;
  asked.problem.numerics.coupling_tolerance /= 5;
  // Until the disc has passed its peak; the rest of the cooling adds nothing to these figures.
  asked.problem.numerics.end_time = 0.15;
  const Result fine = solve(asked.problem);

  const double start = asked.problem.boundary.ambient;
  EXPECT_GT(fine.joints[0].nugget.value, 0.4e-3);
  EXPECT_LT(relative(standard.joints[0].nugget.value, fine.joints[0].nugget.value), 0.01);
  EXPECT_LT(relative(standard.joints[0].peak.value, fine.joints[0].peak.value, start), 0.01);
  EXPECT_LT(relative(standard.peak_inner_wall.value, fine.peak_inner_wall.value, start), 0.01);
  EXPECT_LT(relative(standard.inner_wall_and_layers[2].peak.value,
                     fine.inner_wall_and_layers[2].peak.value, start),
            0.015);
  // Not its peak, a flash of microseconds.
  EXPECT_LT(relative(top_when_switched_off(standard), top_when_switched_off(fine), start), 0.015);
  EXPECT_LT(relative(standard.ledger.sheets[1], fine.ledger.sheets[1]), 0.01);
}

// A contact that softens amplifies what disturbs it. If all its faces grow at once they overshoot,
// and the nugget then hangs on the last digit of the linear solver by 1 to 4 %.
TEST(DefaultGrid, last_digits_of_the_linear_solver_hardly_move_the_nugget) {
  Case asked = read_case(TABMELT_SOURCE_DIR "/cases/trimmer-negative/case.toml");
  asked.problem.numerics.end_time = 2e-3;
  double least = 1, largest = 0;
  for (const double tolerance : {1e-6, 8e-7, 6e-7, 4e-7}) {
    asked.problem.numerics.linear_tolerance = tolerance;
    const double nugget = solve(asked.problem).joints[0].nugget.value;
    least = std::min(least, nugget);
    largest = std::max(largest, nugget);
  }
  EXPECT_GT(least, 0.4e-3);
  EXPECT_LT(largest / least, 1.005);
}

}  // namespace
}  // namespace tabmelt
