// Decomposition of the SEI film. Catches: degrees Celsius taken for kelvin, digits lost in small
// damages.
#include "solver/material/sei_damage.h"

#include <gtest/gtest.h>

#include <cmath>

#include "solver/material/constants.h"
#include "tests/support/near.h"

namespace tabmelt {
namespace {

struct Point {
  double celsius;
  double rate;  // [1/s]
};

// Calculated by hand from the constants of Hatchard et al., J. Electrochem. Soc. 148 (2001) A755,
// to three digits: A exp(-Ea/(R T)) with A = 1.667e15 1/s, Ea = 135.08 kJ/mol, R = 8.314 J/mol/K.
TEST(SeiDamage, rate_follows_the_published_kinetics) {
  for (const Point& p :
       {Point{60, 1.10e-6}, Point{80, 1.74e-5}, Point{100, 2.05e-4}, Point{120, 1.88e-3},
        Point{130, 5.24e-3}, Point{150, 0.0352}, Point{200, 2.04}})
    EXPECT_NEAR(sei_damage_rate(p.celsius + 273.15) / p.rate, 1, 6e-3) << p.celsius << " C";
}

TEST(SeiDamage, slope_over_inverse_temperature_is_the_activation_energy) {
  const double T1 = 360, T2 = 470;
  const double slope =
      std::log(sei_damage_rate(T2) / sei_damage_rate(T1)) / (1 / T1 - 1 / T2);  // Ea/R [K]
  EXPECT_NEAR_RELATIVE(slope * constants::gas_constant, 1.3508e5, 1e-10);
}

// Ten minutes at 130 C, the duration and temperature of the abuse test of IEC 62133-2, leave
// exp(-600 s * 5.24e-3 1/s) = 4.3 % of the film.
TEST(SeiDamage, ten_minutes_at_130_celsius_leave_four_percent) {
  EXPECT_NEAR(1 - sei_damage(600 * sei_damage_rate(403.15)), 0.043, 5e-4);
}

TEST(SeiDamage, small_exposures_keep_their_digits) {
  EXPECT_NEAR_RELATIVE(sei_damage(1e-18), 1e-18, 1e-12);
  EXPECT_EQ(sei_damage(0), 0);
  EXPECT_DOUBLE_EQ(sei_damage(1e9), 1);
}

TEST(SeiDamage, adds_up_over_pieces) {
  EXPECT_NEAR((1 - sei_damage(0.3)) * (1 - sei_damage(0.4)), 1 - sei_damage(0.7), 1e-15);
}

TEST(SeiDamage, never_negative_and_grows_with_temperature) {
  EXPECT_EQ(sei_damage_rate(0), 0);
  EXPECT_EQ(sei_damage_rate(-5), 0);
  double before = 0;
  for (double T = 200; T < 3000; T += 50) {
    EXPECT_GT(sei_damage_rate(T), before);
    before = sei_damage_rate(T);
  }
}

}  // namespace
}  // namespace tabmelt
