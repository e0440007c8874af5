// Cylinder solutions against independent evaluation: Talbot inversion of the transform (a ratio
// of I0), times an image series for the finite one; quadrature for the coaxial shells.
// Catches: wrong zeros or weights of the Bessel series, the product rule misapplied.
#include "tests/support/cylinder.h"

#include <gtest/gtest.h>

#include <stdexcept>

#include "tests/support/near.h"

namespace tabmelt::exact {
namespace {

const UniformSolid copper{390, 8960, 390};  // round numbers
constexpr double digits = 1e-10;

TEST(Cylinder, quenched_infinite_cylinder_as_tabulated) {
  const QuenchedCylinder cylinder{copper, 1e-3};
  const struct {
    double t, r, theta;
  } rows[] = {
      {5.0e-4, 0.0, 0.978397023338},      {5.0e-4, 5.0e-4, 0.805254147962},
      {5.0e-4, 9.0e-4, 0.190596761382},   {2.0e-3, 0.0, 0.439400677002},
      {2.0e-3, 5.0e-4, 0.295360138993},   {2.0e-3, 9.0e-4, 0.0576192759601},
      {5.0e-3, 0.0, 0.063546208378},      {5.0e-3, 5.0e-4, 0.042571531598},
      {5.0e-3, 9.0e-4, 8.27842501428e-3},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(cylinder.theta(row.r, row.t), row.theta, digits);
  }
  const struct {
    double t, theta;
  } means[] = {
      {5.0e-4, 0.52568469243},
      {2.0e-3, 0.19037051596},
      {5.0e-3, 0.0274364053033},
  };
  for (const auto& row : means) {
    EXPECT_NEAR_RELATIVE(cylinder.mean_theta(row.t), row.theta, digits);
  }
}

TEST(Cylinder, quenched_finite_cylinder_as_tabulated) {
  const QuenchedShortCylinder cylinder{copper, 1e-3, 2e-3};
  const struct {
    double t, r, z, theta;
  } rows[] = {
      {5.0e-4, 0.0, 0.0, 0.978397019147},  {5.0e-4, 5.0e-4, 1.0e-3, 0.803032009735},
      {2.0e-3, 0.0, 0.0, 0.436975581661},  {2.0e-3, 5.0e-4, 1.0e-3, 0.255637714248},
      {5.0e-3, 0.0, 0.0, 0.0561318267656}, {5.0e-3, 5.0e-4, 1.0e-3, 0.0277409019338},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(cylinder.theta(row.r, row.z, row.t), row.theta, digits);
  }
}

TEST(Cylinder, heated_cylinder_as_tabulated) {
  const HeatedCylinder cylinder{copper, 1e-3, 1e12};
  const struct {
    double t, r, rise;
  } rows[] = {
      {5.0e-4, 0.0, 142.586752295},
      {5.0e-4, 5.0e-4, 133.588424123},
      {5.0e-3, 0.0, 612.851017541},
      {5.0e-3, 5.0e-4, 461.894209515},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(cylinder.rise(row.r, row.t), row.rise, digits);
  }
  EXPECT_NEAR_RELATIVE(cylinder.rise(3e-4, 1.0), cylinder.steady_rise(3e-4), 1e-12);
}

TEST(Cylinder, early_times_beyond_the_table_of_zeros_are_refused) {
  const QuenchedCylinder cylinder{copper, 1e-3};
  EXPECT_THROW(cylinder.theta(0, 1e-8), std::domain_error);
}

TEST(Cylinder, coaxial_shells_as_tabulated) {
  const CoaxialShells shells{1e-3, 1.5e-3, 3e-3, 390, 50, 1e5};
  EXPECT_NEAR_RELATIVE(shells.heat_per_length(100), 29130.2716231, digits);
}

}  // namespace
}  // namespace tabmelt::exact
