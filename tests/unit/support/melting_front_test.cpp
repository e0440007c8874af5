// Melting fronts against independent evaluation: the root of the integral heat balance by
// quadrature over depth (sharp front), shooting through the ordinary differential equation in
// x/sqrt(t) (melting range).
// Catches: a wrong term of the transcendental equations, a lost root, latent heat counted twice.
#include "tests/support/melting_front.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>

#include "tests/support/near.h"

namespace tabmelt::exact {
namespace {

// round numbers, not data
const MeltingMetal nickel{8900, 60, 75, 730, 600, 298000};
const MeltingMetal steel{7200, 35, 30, 800, 700, 270000};
constexpr double digits = 1e-10;

double middle_sum(const auto& f, double from, double to, int pieces) {
  double sum = 0;
  for (int i = 0; i < pieces; ++i) {
    sum += f(from + (to - from) * (i + 0.5) / pieces);
  }
  return sum * (to - from) / pieces;
}

TEST(MeltingFront, one_phase_as_tabulated) {
  const SharpFront warm(nickel, 1728, 2500, 1728);
  EXPECT_NEAR_RELATIVE(warm.lambda(), 0.785320432153, digits);
  EXPECT_NEAR_RELATIVE(warm.position(1e-3), 1.509371288e-4, digits);
  EXPECT_NEAR_RELATIVE(warm.position(1e-2), 4.77305110495e-4, digits);
  const SharpFront hot(steel, 1800, 2600, 1800);
  EXPECT_NEAR_RELATIVE(hot.lambda(), 0.847547246193, digits);
  EXPECT_NEAR_RELATIVE(hot.position(1e-3), 1.32134642265e-4, digits);
  EXPECT_NEAR_RELATIVE(hot.position(1e-2), 4.17846427369e-4, digits);
}

TEST(MeltingFront, one_phase_problem_needs_no_solid_properties) {
  const MeltingMetal liquid_only{8900, 60, 0, 730, 0, 298000};
  const SharpFront front(liquid_only, 1728, 2500, 1728);
  EXPECT_NEAR_RELATIVE(front.lambda(), 0.785320432153, digits);
  EXPECT_EQ(front.temperature(1e-2, 1e-3), 1728);
}

TEST(MeltingFront, two_phases_as_tabulated) {
  const SharpFront warm(nickel, 1728, 2500, 300);
  EXPECT_NEAR_RELATIVE(warm.lambda(), 0.306279591246, digits);
  EXPECT_NEAR_RELATIVE(warm.position(1e-3), 5.88663687077e-5, digits);
  EXPECT_NEAR_RELATIVE(warm.position(1e-2), 1.86151802699e-4, digits);
  EXPECT_NEAR_RELATIVE(warm.heat(1e-3), 1623089.42833, digits);
  EXPECT_NEAR_RELATIVE(warm.heat(1e-2), 5132659.43965, digits);
  const SharpFront hot(steel, 1800, 2600, 300);
  EXPECT_NEAR_RELATIVE(hot.lambda(), 0.327365187301, digits);
  EXPECT_NEAR_RELATIVE(hot.position(1e-3), 5.10370154683e-5, digits);
  EXPECT_NEAR_RELATIVE(hot.position(1e-2), 1.61393213857e-4, digits);
  EXPECT_NEAR_RELATIVE(hot.heat(1e-3), 1136571.47103, digits);
  EXPECT_NEAR_RELATIVE(hot.heat(1e-2), 3594154.57202, digits);
  const struct {
    double x, temperature;
  } nickel_rows[] = {
      {5e-5, 2286.62066126},
      {2e-4, 1689.59646172},
      {5e-4, 980.08148816},
      {1e-3, 416.512675713},
  };
  for (const auto& row : nickel_rows) {
    EXPECT_NEAR_RELATIVE(warm.temperature(row.x, 1e-2), row.temperature, digits);
  }
  const struct {
    double x, temperature;
  } steel_rows[] = {
      {5e-5, 2344.15216514},
      {2e-4, 1617.62563481},
      {5e-4, 645.256730658},
      {1e-3, 308.794863326},
  };
  for (const auto& row : steel_rows) {
    EXPECT_NEAR_RELATIVE(hot.temperature(row.x, 1e-2), row.temperature, digits);
  }
}

TEST(MeltingFront, melting_range_as_tabulated) {
  const MushyFront narrow(nickel, 67.5, 1718, 1738, 2500, 300);
  EXPECT_NEAR_RELATIVE(narrow.eta_liquidus(), 1.83563268348e-3, digits);
  EXPECT_NEAR_RELATIVE(narrow.eta_solidus(), 1.89666739326e-3, digits);
  EXPECT_NEAR_RELATIVE(narrow.wall_flux(1), 2.56664445305e7, digits);
  const MushyFront wide(nickel, 67.5, 1678, 1778, 2500, 300);
  EXPECT_NEAR_RELATIVE(wide.eta_liquidus(), 1.7327082785e-3, digits);
  EXPECT_NEAR_RELATIVE(wide.eta_solidus(), 2.03736737714e-3, digits);
  EXPECT_NEAR_RELATIVE(wide.wall_flux(1), 2.56804010881e7, digits);
  const MushyFront steel_narrow(steel, 32.5, 1790, 1810, 2600, 300);
  EXPECT_NEAR_RELATIVE(steel_narrow.eta_liquidus(), 1.59232323337e-3, digits);
  EXPECT_NEAR_RELATIVE(steel_narrow.eta_solidus(), 1.63466458238e-3, digits);
  EXPECT_NEAR_RELATIVE(steel_narrow.wall_flux(1), 1.79703592132e7, digits);
  const MushyFront steel_wide(steel, 32.5, 1750, 1850, 2600, 300);
  EXPECT_NEAR_RELATIVE(steel_wide.eta_liquidus(), 1.50650287213e-3, digits);
  EXPECT_NEAR_RELATIVE(steel_wide.eta_solidus(), 1.7179960446e-3, digits);
  EXPECT_NEAR_RELATIVE(steel_wide.wall_flux(1), 1.79684075175e7, digits);
}

TEST(MeltingFront, melting_range_closes_its_heat_balance) {
  const MushyFront front(nickel, 67.5, 1678, 1778, 2500, 300);
  const double t = 4e-3;
  const double xl = front.eta_liquidus() * std::sqrt(t), xs = front.eta_solidus() * std::sqrt(t);
  // The volumetric enthalpy above the initial state, integrated over each smooth region.
  const double c_mush = (730 + 600) / 2.0 + 298000 / 100.0;
  const auto enthalpy = [&](double x) {
    const double T = front.temperature(x, t);
    return 8900 * (600 * (std::min(T, 1678.0) - 300) +
                   c_mush * (std::clamp(T, 1678.0, 1778.0) - 1678) + 730 * std::max(T - 1778, 0.0));
  };
  const double stored = middle_sum(enthalpy, 0, xl, 2000) + middle_sum(enthalpy, xl, xs, 2000) +
                        middle_sum(enthalpy, xs, 5e-3, 20000);
  EXPECT_NEAR_RELATIVE(stored, front.heat(t), 1e-6);
}

TEST(MeltingFront, melted_depth_is_the_integral_of_the_liquid_fraction) {
  const MushyFront front(steel, 32.5, 1750, 1850, 2600, 300);
  const double t = 2e-3;
  const double xl = front.eta_liquidus() * std::sqrt(t), xs = front.eta_solidus() * std::sqrt(t);
  const auto fraction = [&](double x) { return (front.temperature(x, t) - 1750) / 100; };
  EXPECT_NEAR_RELATIVE(front.melted_depth(t), xl + middle_sum(fraction, xl, xs, 2000), 1e-7);
}

TEST(MeltingFront, narrow_melting_range_approaches_the_sharp_front) {
  const SharpFront sharp(nickel, 1728, 2500, 300);
  const MushyFront mushy(nickel, 67.5, 1727.95, 1728.05, 2500, 300);
  EXPECT_NEAR_RELATIVE(mushy.eta_liquidus(), sharp.position(1), 1e-4);
  EXPECT_NEAR_RELATIVE(mushy.eta_solidus(), sharp.position(1), 1e-4);
  EXPECT_NEAR_RELATIVE(mushy.heat(1), sharp.heat(1), 1e-5);
}

TEST(MeltingFront, temperatures_in_the_wrong_order_are_refused) {
  EXPECT_THROW(SharpFront(nickel, 1728, 1700, 300), std::domain_error);
  EXPECT_THROW(SharpFront(nickel, 1728, 2500, 1800), std::domain_error);
  EXPECT_THROW(MushyFront(nickel, 67.5, 1728, 1728, 2500, 300), std::domain_error);
}

}  // namespace
}  // namespace tabmelt::exact
