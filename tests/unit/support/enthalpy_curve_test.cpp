// Enthalpy of a melting metal against quadrature of its specific heat, and its inverse.
// Catches: latent heat counted as total instead of excess, a branch chosen wrongly at its ends.
#include "tests/support/enthalpy_curve.h"

#include <gtest/gtest.h>

#include "tests/support/near.h"

namespace tabmelt::exact {
namespace {

const EnthalpyCurve curve{300, 440, 0.12, 1700, 1728, 298000, 730};

TEST(EnthalpyCurve, enthalpy_and_inverse_as_tabulated) {
  const struct {
    double T, h;
  } forward[] = {
      {250, -21850.0},  {300, 0.0},        {1000, 337400.0},  {1700, 733600.0},
      {1714, 891539.0}, {1728, 1050332.0}, {2000, 1248892.0}, {3000, 1978892.0},
  };
  for (const auto& row : forward) {
    EXPECT_NEAR(curve.enthalpy(row.T), row.h, 1e-7);
  }
  const struct {
    double h, T;
  } inverse[] = {
      {1e5, 520.634596564}, {7e5, 1644.43212612},   {8e5, 1705.89504341},
      {1e6, 1723.5706168},  {1.1e6, 1796.03835616}, {2e6, 3028.91506849},
  };
  for (const auto& row : inverse) {
    EXPECT_NEAR_RELATIVE(curve.temperature(row.h), row.T, 1e-11);
  }
}

TEST(EnthalpyCurve, there_and_back) {
  double previous = -1e9;
  for (double T = 250; T <= 3500; T += 0.5) {
    const double h = curve.enthalpy(T);
    EXPECT_GT(h, previous);
    EXPECT_NEAR(curve.temperature(h), T, 1e-9);
    previous = h;
  }
  for (const double T : {1700 - 1e-6, 1700 + 1e-6, 1728 - 1e-6, 1728 + 1e-6}) {
    EXPECT_NEAR(curve.temperature(curve.enthalpy(T)), T, 1e-9);
  }
}

TEST(EnthalpyCurve, slope_is_the_specific_heat) {
  const double step = 1e-3;
  const auto slope = [&](double T) {
    return (curve.enthalpy(T + step) - curve.enthalpy(T - step)) / (2 * step);
  };
  EXPECT_NEAR_RELATIVE(slope(1000), 440 + 0.12 * 700, 1e-6);
  EXPECT_NEAR_RELATIVE(slope(1714), 298000 / 28.0 + (608 + 730) / 2.0, 1e-6);
  EXPECT_NEAR_RELATIVE(slope(2500), 730.0, 1e-6);
}

}  // namespace
}  // namespace tabmelt::exact
