// Current that narrows through a contact pushes its sides apart.
//
// Slade, Electrical Contacts, 2nd ed. (2014): 4.45e-7 N/A^2, 0.445 N at 1000 A and 1.8 N at 2000 A.
// Catches: a force that does not feel the current, feels its sign, or grows with it instead of its
// square.
#include <gtest/gtest.h>

#include "solver/solve.h"
#include "tests/support/near.h"
#include "tests/verification/weld_problem.h"

namespace tabmelt {
namespace {

double force_left(double current) {
  Problem p = lone_rod(conductor(390, 8960, 385, 1.7e-8), 1e-3, 3e-3);
  p.pressing.force = 20;
  p.circuit.source = circuit::TableCurrent{{0, 1}, {current, current}};
  p.numerics.end_time = 1e-4;
  p.numerics.resolution = 0.5;
  const Result r = solve(p);
  EXPECT_EQ(r.ending, Ending::finished) << r.ending_reason;
  return r.history.back().spots[0].force;
}

TEST(BlowOff, takes_the_square_of_the_current_from_the_force) {
  EXPECT_NEAR(force_left(1000), 20 - 0.445, 1e-6);
  EXPECT_NEAR(force_left(2000), 20 - 1.78, 1e-6);
  EXPECT_NEAR(force_left(-2000), 20 - 1.78, 1e-6);
}

// More than the holding force: a bridge of burst metal still carries the current.
TEST(BlowOff, leaves_a_little_of_the_force) {
  const double left = force_left(8000);
  EXPECT_GT(left, 0);
  EXPECT_LT(left, 0.1);
}

}  // namespace
}  // namespace tabmelt
