// Voltage and temperature of a constriction in metals that obey Wiedemann and Franz, k rho = L T.
//
// Exact at every point of any shape: T^2 - T0^2 = phi (V - phi)/L, and the current
// I = (2 k/(sqrt(L) Gamma)) atan(V/(2 sqrt(L) T0)) for constant k (Kohlrausch, Ann. Phys. 306
// (1900) 132; Holm, Electric Contacts, 4th ed. (1967)), tests/support/joule_heating.h. Catches:
// Joule heat put into the wrong cell, heat of a contact lost, current and heat on faces of unlike
// conductance.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/joule_heating.h"
#include "tests/support/near.h"
#include "tests/support/order_of_accuracy.h"
#include "tests/verification/neck.h"

namespace tabmelt {
namespace {

using namespace neck;

TEST(KohlrauschRelation, holds_in_every_cell_to_second_order) {
  const auto study =
      order_in_cells({4, 8, 16}, [](int cells) { return constriction(80, 80, cells).worst; });
  EXPECT_TRUE(order_within(study, 2, 0.15));
  EXPECT_LE(study.error.back(), 1e-3 * 400);
}

// k rho is the same function of T on both sides, so the relation does not care.
TEST(KohlrauschRelation, holds_for_unlike_metals_in_contact) {
  const auto study =
      order_in_cells({4, 8, 16}, [](int cells) { return constriction(80, 20, cells).worst; });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

TEST(KohlrauschRelation, hottest_depends_on_voltage_alone) {
  const double peak = exact::kohlrausch_peak(T0, V);
  EXPECT_NEAR(peak, 706.634298663, 1e-6);
  EXPECT_NEAR(constriction(80, 80, 16).hottest, peak, 1e-3 * peak);
  // Unlike metals: the hottest place moves into the worse one, its temperature stays.
  EXPECT_NEAR(constriction(80, 20, 16).hottest, peak, 1e-3 * peak);
}

TEST(KohlrauschRelation, current_follows_the_shape_factor) {
  const auto study = order_in_cells({4, 8, 16}, [](int cells) {
    const Solution s = constriction(80, 80, cells);
    const double exact = exact::wiedemann_franz_current(80, s.gamma, V, T0);
    return std::abs(s.current / exact - 1);
  });
  EXPECT_TRUE(order_within(study, 2, 0.25));
  EXPECT_LE(study.error.back(), 1e-3);
}

}  // namespace
}  // namespace tabmelt
