// Decomposition of the SEI film. Check numbers: the rate law evaluated independently, to three or
// four digits, with the constants of Hatchard et al., J. Electrochem. Soc. 148 (2001) A755.
// Catches: degrees Celsius taken for kelvin, digits lost in small damages.
#include "solver/material/sei_damage.h"

#include <gtest/gtest.h>

#include <cmath>

#include "solver/material/constants.h"
#include "tests/support/near.h"

namespace tabmelt {
namespace {

double rate_at_celsius(double t) { return sei_damage_rate(t + constants::zero_celsius); }

TEST(SeiDamage, rate_follows_the_published_constants) {
  EXPECT_NEAR_RELATIVE(rate_at_celsius(80), 1.748e-5, 0.003);
  EXPECT_NEAR_RELATIVE(rate_at_celsius(130), 5.25e-3, 0.003);
  EXPECT_NEAR_RELATIVE(rate_at_celsius(200), 2.040, 0.003);
}

TEST(SeiDamage, slope_over_inverse_temperature_is_the_activation_energy) {
  const double T1 = 360, T2 = 470;
  const double slope =
      std::log(sei_damage_rate(T2) / sei_damage_rate(T1)) / (1 / T1 - 1 / T2);  // Ea/R [K]
  EXPECT_NEAR_RELATIVE(slope * constants::gas_constant, 1.3508e5, 1e-10);
}

TEST(SeiDamage, no_rate_at_or_below_absolute_zero) {
  EXPECT_EQ(sei_damage_rate(0), 0);
  EXPECT_EQ(sei_damage_rate(-10), 0);
}

TEST(SeiDamage, ten_minutes_at_130_celsius_leave_a_twentieth) {
  EXPECT_NEAR(1 - sei_damage(600 * rate_at_celsius(130)), 0.043, 0.001);
}

TEST(SeiDamage, small_exposures_keep_their_digits) {
  EXPECT_NEAR_RELATIVE(sei_damage(1e-18), 1e-18, 1e-12);
  EXPECT_EQ(sei_damage(0), 0);
  EXPECT_NEAR(sei_damage(100), 1, 1e-12);
}

}  // namespace
}  // namespace tabmelt
