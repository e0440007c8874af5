// The manufactured source against independent evaluation (nested numerical differentiation of the
// conservative form; theta by the product-to-sum rule), and the fluxes against the source.
// Catches: a sign or a chain-rule term lost in deriving the source.
#include "tests/support/manufactured_conduction.h"

#include <gtest/gtest.h>

#include "tests/support/near.h"

namespace tabmelt::exact {
namespace {

const ManufacturedConduction field{1e-3, 8e-4, 400, 2e-3, 60, -4e-4, 4e6};

TEST(ManufacturedConduction, theta_and_source_as_tabulated) {
  const struct {
    double r, z, t, theta, source;
  } rows[] = {
      {0, 2e-4, 1e-3, 205.322256705, -3.65782150019e11},
      {3e-4, 5e-4, 1e-3, 133.370723644, -2.3535485967e11},
      {8e-4, 1e-4, 0, 243.186238234, -4.27775504892e11},
      {1e-3, 8e-4, 2e-3, 16.3147349874, -2.790006272e10},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(field.theta(row.r, row.z, row.t), row.theta, 1e-10);
    EXPECT_NEAR_RELATIVE(field.source(row.r, row.z, row.t), row.source, 1e-10);
  }
}

TEST(ManufacturedConduction, divergence_of_the_flux_is_the_steady_source) {
  const double r = 4e-4, z = 3e-4, t = 5e-4, step = 1e-6;
  const double divergence =
      ((r + step) * field.flux_r(r + step, z, t) - (r - step) * field.flux_r(r - step, z, t)) /
          (2 * step * r) +
      (field.flux_z(r, z + step, t) - field.flux_z(r, z - step, t)) / (2 * step);
  EXPECT_NEAR_RELATIVE(divergence, field.steady_source(r, z, t), 1e-6);
}

TEST(ManufacturedConduction, no_flux_over_the_axis) {
  EXPECT_EQ(field.flux_r(0, 3e-4, 1e-3), 0);
  // and the source is continuous there
  EXPECT_NEAR_RELATIVE(field.source(1e-9, 3e-4, 1e-3), field.source(0, 3e-4, 1e-3), 1e-9);
}

}  // namespace
}  // namespace tabmelt::exact
