// Disk source on a half-space against numbers from independent evaluation: time integral of the
// Green's function (axis, surface) and the Hankel integral (mean); elliptic integrals against
// quadrature (steady).
// Catches: a wrong kernel, oscillations of the Bessel functions missed by the quadrature.
#include "tests/support/disk_source.h"

#include <gtest/gtest.h>

#include "tests/support/near.h"

namespace tabmelt::exact {
namespace {

const DiskSource disk{{50, 7850, 500}, 1e8, 5e-4};

TEST(DiskSource, axis_as_tabulated) {
  const struct {
    double t, z, rise;
  } rows[] = {
      {1.0e-4, 0.0, 80.5471589439},        {1.0e-4, 1.0e-4, 1.80277860252},
      {1.0e-4, 5.0e-4, 3.92522257789e-22}, {1.0e-3, 0.0, 254.560858597},
      {1.0e-3, 1.0e-4, 103.006096796},     {1.0e-3, 5.0e-4, 0.150999834724},
      {1.0e-3, 1.0e-3, 1.80272045289e-8},  {0.01, 0.0, 634.217141884},
      {0.01, 1.0e-4, 456.253430374},       {0.01, 5.0e-4, 97.3662253397},
      {0.01, 1.0e-3, 8.57408140788},       {0.1, 0.0, 876.04362517},
      {0.1, 1.0e-4, 695.92804138},         {0.1, 5.0e-4, 292.24198722},
      {0.1, 1.0e-3, 119.715954138},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(disk.axis_rise(row.z, row.t), row.rise, 1e-10);
  }
}

TEST(DiskSource, surface_as_tabulated) {
  const struct {
    double t, r, rise;
  } rows[] = {
      {1.0e-3, 2.5e-4, 250.3918594}, {1.0e-3, 5.0e-4, 119.1926245}, {1.0e-3, 1.0e-3, 0.0114045363},
      {0.01, 2.5e-4, 580.2286944},   {0.01, 5.0e-4, 314.257308},    {0.01, 1.0e-3, 22.11190063},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(disk.surface_rise(row.r, row.t), row.rise, 2e-9);
  }
}

TEST(DiskSource, mean_as_tabulated) {
  const struct {
    double t, rise;
  } rows[] = {
      {1.0e-4, 77.3053053743},
      {1.0e-3, 222.48264741},
      {0.01, 505.572085519},
      {0.1, 725.852871108},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(disk.mean_rise(row.t), row.rise, 1e-10);
  }
}

TEST(DiskSource, steady_state_as_tabulated) {
  EXPECT_NEAR_RELATIVE(disk.steady_surface_rise(0), 1000.0, 1e-12);
  EXPECT_NEAR_RELATIVE(disk.steady_surface_rise(2.5e-4), 934.215457668, 1e-11);
  EXPECT_NEAR_RELATIVE(disk.steady_surface_rise(5e-4), 636.619772368, 1e-11);
  EXPECT_NEAR_RELATIVE(disk.steady_mean_rise(), 848.826363157, 1e-11);
}

TEST(DiskSource, axis_and_surface_meet_at_the_centre) {
  for (const double t : {1e-5, 1e-4, 1e-2, 1.0}) {
    EXPECT_NEAR_RELATIVE(disk.surface_rise(0, t), disk.axis_rise(0, t), 1e-10);
  }
}

TEST(DiskSource, far_away_it_is_a_point_source) {
  // q a^2/(2 k r), next term (a/r)^2/8
  EXPECT_NEAR_RELATIVE(disk.steady_surface_rise(0.05), 1e8 * 25e-8 / (2 * 50 * 0.05), 2e-5);
  // and both sides of the rim meet
  EXPECT_NEAR_RELATIVE(disk.steady_surface_rise(5e-4 * (1 - 1e-9)),
                       disk.steady_surface_rise(5e-4 * (1 + 1e-9)), 1e-6);
}

}  // namespace
}  // namespace tabmelt::exact
