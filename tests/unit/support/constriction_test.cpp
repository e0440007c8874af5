// Constriction resistances against independent evaluation: image series in hypergeometric
// functions and a spectral Galerkin solve (plate), the Bessel series summed with extrapolation and
// a spectral Galerkin solve (cylinder).
// Catches: truncated series, a wrong kernel, resistance on the mean mistaken for the centre.
#include "tests/support/constriction.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/near.h"

namespace tabmelt::exact {
namespace {

using namespace constriction;
using std::numbers::pi;

TEST(Constriction, half_space_in_its_three_forms) {
  // Newman, J. Electrochem. Soc. 113 (1966) 501: 1/4; Carslaw & Jaeger, section 10.5, by analogy
  EXPECT_NEAR_RELATIVE(half_space_equipotential(2, 3), 1.0 / 24, 1e-14);
  EXPECT_NEAR_RELATIVE(half_space_uniform_flux(1, 1), 0.270190, 2e-6);
  // 8.08 % and 27.3 % above the equipotential disk
  EXPECT_NEAR(half_space_uniform_flux(1, 1) / half_space_equipotential(1, 1), 1.0808, 5e-5);
  EXPECT_NEAR(half_space_uniform_flux_centre(1, 1) / half_space_equipotential(1, 1), 1.2732, 5e-5);
}

TEST(Constriction, plate_as_tabulated) {
  const struct {
    double thickness, uniform_flux, equipotential;
  } rows[] = {
      {0.5, 0.117734276666, 0.10726423675},
      {1, 0.173556788964, 0.15666309205},
      {2, 0.217102674351, 0.19754121631},
      {5, 0.248267847878, 0.22812449554},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(plate_uniform_flux(1, 1, row.thickness), row.uniform_flux, 1e-10);
    EXPECT_NEAR_RELATIVE(plate_equipotential(1, 1, row.thickness), row.equipotential, 2e-10);
    // R scales as 1/(kappa a)
    EXPECT_NEAR_RELATIVE(plate_uniform_flux(4e6, 3e-4, 3e-4 * row.thickness),
                         row.uniform_flux / (4e6 * 3e-4), 1e-10);
    EXPECT_NEAR_RELATIVE(plate_equipotential(4e6, 3e-4, 3e-4 * row.thickness),
                         row.equipotential / (4e6 * 3e-4), 2e-10);
  }
}

TEST(Constriction, thick_plate_is_a_half_space_and_thin_plate_a_prism) {
  EXPECT_NEAR_RELATIVE(plate_equipotential(1, 1, 1e6), half_space_equipotential(1, 1), 1e-6);
  EXPECT_NEAR_RELATIVE(plate_uniform_flux(1, 1, 1e6), half_space_uniform_flux(1, 1), 1e-6);
  EXPECT_NEAR_RELATIVE(plate_uniform_flux(1, 1, 0.01), 0.01 / 3.14159265, 0.01);
}

TEST(Constriction, cylinder_with_uniform_flux_as_tabulated) {
  const struct {
    double eps, length, resistance;
  } rows[] = {
      {0.1, 0.25, 0.22715451338},  {0.1, 1, 0.26680659124}, {0.1, 5, 0.39417696493},
      {0.2, 0.25, 0.1895693005},   {0.2, 1, 0.26381670163}, {0.2, 5, 0.518547594},
      {0.3, 0.25, 0.15939757537},  {0.3, 1, 0.26162316249}, {0.3, 5, 0.64369777718},
      {0.5, 0.25, 0.11779862172},  {0.5, 1, 0.2613691315},  {0.5, 5, 0.89807726737},
      {0.7, 0.25, 0.092528412465}, {0.7, 1, 0.27016775019}, {0.7, 5, 1.1614728367},
  };
  for (const auto& row : rows) {
    EXPECT_NEAR_RELATIVE(cylinder_uniform_flux(1, 1, 1 / row.eps, row.length / row.eps),
                         row.resistance, 1e-9);
  }
}

TEST(Constriction, equipotential_fit_for_a_long_cylinder) {
  const struct {
    double eps, psi;
  } rows[] = {
      {0.1, 0.85941360066}, {0.2, 0.72087560499}, {0.3, 0.58650941036}, {0.5, 0.33960939014}};
  for (const auto& row : rows) {
    const double b = 1 / row.eps, l = 5 * b;
    const double constriction = cylinder_equipotential(1, 1, b, l) - l / (3.14159265358979 * b * b);
    EXPECT_NEAR(4 * constriction, row.psi, 1e-4);
  }
}

// Good contact leaves the half-spaces' spreading, poor contact an even current density; between
// them the contact's heat is the slope of the resistance over the logarithm of 1/g, which holds for
// any network of resistors.
TEST(Constriction, film_between_half_spaces) {
  EXPECT_NEAR_RELATIVE(half_spaces_with_film(2, 3, 0.5, 1e9).resistance,
                       half_space_equipotential(2, 0.5) + half_space_equipotential(3, 0.5), 1e-5);
  const double poor = 1 / (pi * 0.25 * 1e-4);
  EXPECT_NEAR_RELATIVE(half_spaces_with_film(2, 3, 0.5, 1e-4).resistance - poor,
                       half_space_uniform_flux(2, 0.5) + half_space_uniform_flux(3, 0.5), 1e-4);
  for (const double g : {0.1, 1.0, 30.0}) {
    const double up = half_spaces_with_film(2, 3, 0.5, g * std::exp(-1e-3)).resistance;
    const double down = half_spaces_with_film(2, 3, 0.5, g * std::exp(1e-3)).resistance;
    EXPECT_NEAR_RELATIVE(half_spaces_with_film(2, 3, 0.5, g).contact_heat, (up - down) / 2e-3,
                         1e-6);
  }
}

}  // namespace
}  // namespace tabmelt::exact
