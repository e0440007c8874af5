// Spreading resistance of a round spot on the end of a cylinder, on a plate and on a thin sheet.
//
// Exact: series and integrals for even current density over the spot, tests/support/constriction.h
// and sheet.h (Newman, J. Electrochem. Soc. 113 (1966) 501; Holm, Electric Contacts; Smythe, Static
// and Dynamic Electricity).
// Catches: a spot one cell too wide, a half cell missing between spot and body, a wrong logarithm
// towards the rim.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/constriction.h"
#include "tests/support/near.h"
#include "tests/support/order_of_accuracy.h"
#include "tests/support/sheet.h"
#include "tests/verification/spreading.h"

namespace tabmelt {
namespace {

using namespace spreading;

TEST(ConstrictionResistance, spot_on_a_cylinder) {
  for (const double share : {0.2, 0.5})
    for (const double length : {0.25, 1.0, 5.0}) {
      const double b = a / share;
      EXPECT_NEAR_RELATIVE(resistance(b, length * b, 8),
                           exact::constriction::cylinder_uniform_flux(kappa, a, b, length * b),
                           1e-3);
    }
}

// A plate as wide as 12 spots and its thickness is as good as one without end: what lies beyond
// carries less than exp(-pi 12 a/t).
TEST(ConstrictionResistance, spot_on_a_plate) {
  for (const double t : {0.5 * a, a, 2 * a})
    EXPECT_NEAR_RELATIVE(resistance(a + 8 * t, t, 8),
                         exact::constriction::plate_uniform_flux(kappa, a, t), 1e-3);
}

// The potential of an even-current spot is smooth but for r^2 ln r at its edge: second order, less
// a logarithm.
TEST(ConstrictionResistance, even_current_is_second_order) {
  const double b = 2 * a, exact = exact::constriction::cylinder_uniform_flux(kappa, a, b, b);
  const auto study = order_in_steps(
      {1, 0.5, 0.25, 0.125}, [&](double h) { return std::abs(resistance(b, b, 1 / h) - exact); });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

// A spot at one potential draws a current density that is infinite at its edge (like 1/sqrt of the
// distance): the order tends to one from above, as it must; the coarsest pair is left out.
TEST(ConstrictionResistance, spot_at_one_potential_is_first_order) {
  const double b = 2 * a, exact = exact::constriction::cylinder_equipotential(kappa, a, b, 1.5 * b);
  const auto study = order_in_steps({1, 0.5, 0.25, 0.125}, [&](double h) {
    return std::abs(resistance(b, 1.5 * b, 1 / h, true) - exact);
  });
  EXPECT_TRUE(order_within(study, 1, 0.15, 1));
  EXPECT_LE(study.error.back(), 1e-2 * exact);
}

TEST(ConstrictionResistance, spot_on_a_sheet_with_grounded_rim) {
  for (const double t : {2e-4, 5e-4})
    EXPECT_NEAR_RELATIVE(sheet_resistance(t, 5e-3, 4),
                         exact::sheet::surface_spot(1 / kappa, t, a, 5e-3), 1e-3);
}

TEST(ConstrictionResistance, sheet_is_second_order) {
  const double exact = exact::sheet::surface_spot(1 / kappa, 2e-4, a, 5e-3);
  const auto study = order_in_steps({1, 0.5, 0.25}, [&](double h) {
    return std::abs(sheet_resistance(2e-4, 5e-3, 1 / h) - exact);
  });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

}  // namespace
}  // namespace tabmelt
