// Is the default grid and step fine enough? The main demo case, full physics, against itself on
// half the cell size with a third of the step tolerance. Catches a grid rule or a tolerance that
// trades accuracy for speed, and any ratchet in the contacts that feeds on step noise.
//
// Measured when this was written, default against resolution 3 and a third of the step tolerance
// (temperatures relative to their rise): nugget 0.2 %, joint 0.7 %, inner wall 0.1 %, insulating
// disc 0.7 %, strip's upper face 1.2 %. The last one sits at the edge of the touching face, where
// the current density of the continuum has no finite value; it is the one figure above one per
// cent.
#include <gtest/gtest.h>

#include "io/case/read_case.h"
#include "solver/solve.h"

namespace tabmelt {
namespace {

double relative(double value, double reference, double start = 0) {
  return std::abs(value - reference) / (reference - start);
}

TEST(DefaultGrid, agrees_with_half_the_cell_size_and_a_third_of_the_tolerance) {
  Case asked = read_case(TABMELT_SOURCE_DIR "/cases/trimmer-negative/case.toml");
  const Result standard = solve(asked.problem);
  asked.problem.numerics.resolution = 2;
  asked.problem.numerics.step_tolerance /= 3;
  asked.problem.numerics.coupling_tolerance /= 5;
  // The pulse and what follows directly; the long cooling adds nothing to these figures.
  asked.problem.numerics.end_time = 0.02;
  const Result fine = solve(asked.problem);

  const double start = asked.problem.boundary.ambient;
  EXPECT_GT(fine.nugget.value, 0.4e-3);
  EXPECT_LT(relative(standard.nugget.value, fine.nugget.value), 0.01);
  EXPECT_LT(relative(standard.peak_faying.value, fine.peak_faying.value, start), 0.01);
  EXPECT_LT(relative(standard.peak_inner_wall.value, fine.peak_inner_wall.value, start), 0.01);
  EXPECT_LT(relative(standard.inner_wall_and_layers[2].peak.value,
                     fine.inner_wall_and_layers[2].peak.value, start),
            0.015);
  EXPECT_LT(relative(standard.peak_strip_top.value, fine.peak_strip_top.value, start), 0.015);
  EXPECT_LT(relative(standard.ledger.can, fine.ledger.can), 0.01);
}

}  // namespace
}  // namespace tabmelt
