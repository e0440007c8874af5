// A skin smeared over a sheet: series and parallel, against values worked out by hand.
#include "solver/material/plated.h"

#include <gtest/gtest.h>

#include <stdexcept>

#include "tests/support/near.h"

namespace tabmelt {
namespace {

Material metal(double density, double heat, double k, double rho, double hardness) {
  Material m;
  m.density = density;
  m.specific_heat = Curve::constant(heat);
  m.thermal_conductivity = {{300, 1300}, {k, 0.8 * k}};
  m.resistivity = {{300, 1300}, {rho, 5 * rho}};
  m.melting = Melting{1350, 1360, 2e5};
  m.boiling = Boiling{2800, 5e6};
  m.hardness = hardness;
  m.softening_temperature = 400 + hardness / 1e7;
  m.tensile_strength = 3e8;
  return m;
}

TEST(Plated, layers_lie_in_series_across_and_in_parallel_along_the_sheet) {
  const Material core = metal(9000, 400, 400, 2e-8, 1e9), skin = metal(8000, 500, 100, 8e-8, 2e9);
  const Material m = plated(core, skin, 0.1);
  EXPECT_NEAR_RELATIVE(m.density, 8900, 1e-14);
  EXPECT_NEAR_RELATIVE(m.density * m.specific_heat.at(300), 0.9 * 9000 * 400 + 0.1 * 8000 * 500,
                       1e-14);
  EXPECT_NEAR_RELATIVE(m.conductivity_z(300), 1 / (0.9 / 400 + 0.1 / 100), 1e-14);
  EXPECT_NEAR_RELATIVE(m.conductivity_r(293.15), 0.9 * 400 + 0.1 * 100, 1e-12);
  for (const double T : {300.0, 1300.0})
    EXPECT_NEAR_RELATIVE(1 / m.resistivity_at(T),
                         0.9 / core.resistivity_at(T) + 0.1 / skin.resistivity_at(T), 1e-14);
  // Latent heat of the core alone, over the mass of both.
  EXPECT_NEAR_RELATIVE(m.melting->latent_heat * m.density, 2e5 * 0.9 * 9000, 1e-14);
  EXPECT_EQ(*m.hardness, 2e9);
  EXPECT_EQ(*m.softening_temperature, 600);
  EXPECT_EQ(m.melting->solidus, 1350);
}

TEST(Plated, skin_of_the_same_metal_or_of_no_thickness_changes_nothing) {
  const Material core = metal(9000, 400, 400, 2e-8, 1e9), other = metal(8000, 500, 100, 8e-8, 2e9);
  for (const Material& m : {plated(core, core, 0.3), plated(core, other, 1e-12)}) {
    EXPECT_NEAR_RELATIVE(m.resistivity_at(700), core.resistivity_at(700), 1e-9);
    EXPECT_NEAR_RELATIVE(m.conductivity_z(700), core.conductivity_z(700), 1e-9);
    EXPECT_NEAR_RELATIVE(m.conductivity_r(700), core.conductivity_r(700), 1e-9);
  }
}

TEST(Plated, nonsense_is_refused) {
  const Material core = metal(9000, 400, 400, 2e-8, 1e9);
  Material plastic = core;
  plastic.resistivity = {};
  EXPECT_THROW(plated(core, core, 0), std::invalid_argument);
  EXPECT_THROW(plated(core, core, 1), std::invalid_argument);
  EXPECT_THROW(plated(core, plastic, 0.1), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt
