// A contact whose edge walks through the columns of the grid: resistance and heat of a disc.
//
// With the covered share of the contact's conductance only, the same sweeps scatter from -6 to +6 %
// (10 columns over the disc), contact heat from -20 to +90 %.
//
// Exact: disc between half-spaces, 1/(4 kappa b) a side; on slabs and with a film on it,
// tests/support/constriction.h.
// Catches: a share of the edge column that is off anywhere between two faces, an edge that jumps
// from one column to the next, a share that ignores film, heights of rows or conductivities.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "solver/electric_potential/potential.h"
#include "tests/support/constriction.h"
#include "tests/support/near.h"
#include "tests/support/order_of_accuracy.h"
#include "tests/verification/heated_body.h"
#include "tests/verification/two_halves.h"

namespace tabmelt {
namespace {

using exact::constriction::half_spaces_with_film;
using exact::constriction::plate_equipotential;

struct Band {
  double least = 1e9, most = -1e9;
  double worst() const { return std::max(std::abs(least), std::abs(most)); }
};

// Relative errors over the sweep; the resistance has to fall from step to step.
template <typename Exact>
Band errors(const TouchingHalves& halves, int cells, Exact exact, int steps = 24) {
  Band band;
  double last = 1e300;
  for (const double b : sweep_through_columns(cells, steps)) {
    const double R = halves.resistance(b), error = R / exact(b) - 1;
    EXPECT_LT(R, last) << "at b = " << b;
    last = R;
    band.least = std::min(band.least, error);
    band.most = std::max(band.most, error);
  }
  return band;
}

TEST(ContactEdge, between_half_spaces) {
  for (const int cells : {8, 10, 12}) {
    Halves h;
    h.cells = cells;
    const TouchingHalves halves(h);
    const auto exact = [](double b) { return 0.5 / b; };
    EXPECT_LE(errors(halves, cells, exact).worst(), 1e-3) << cells;
  }
}

TEST(ContactEdge, between_slabs) {
  for (const double height : {1.0, 0.5, 0.25}) {
    Halves h;
    h.lower = h.upper = height;
    h.cells = height < 0.5 ? 12 : 10;
    const TouchingHalves halves(h);
    const auto exact = [&](double b) { return 2 * plate_equipotential(1, b, height); };
    EXPECT_LE(errors(halves, h.cells, exact, 12).worst(), 4e-3) << height;
  }
}

TEST(ContactEdge, two_conductivities_unequal_rows_and_a_film) {
  for (const double bi : {1e9, 100.0, 10.0, 1.0, 0.1}) {
    Halves h;
    h.k_lower = 1;
    h.k_upper = 5.5;
    h.dz_upper = 0.6;
    h.g = bi;
    const TouchingHalves halves(h);
    const auto exact = [&](double b) {
      return half_spaces_with_film(h.k_lower, h.k_upper, b, h.g).resistance;
    };
    EXPECT_LE(errors(halves, h.cells, exact, 12).worst(), 1e-3) << bi;
  }
}

TEST(ContactEdge, is_second_order_however_the_edge_lies) {
  for (const double g : {1e12, 10.0}) {
    const auto study = order_in_cells({6, 12, 24}, [&](int cells) {
      Halves h;
      h.lower = h.upper = 0.5;
      h.cells = cells;
      h.g = g;
      const TouchingHalves halves(h);
      // Against the same contact on a much finer grid where there is no closed form.
      if (g > 1e9) {
        return errors(
                   halves, cells, [](double b) { return 2 * plate_equipotential(1, b, 0.5); }, 6)
            .worst();
      }
      Halves finest = h;
      finest.cells = 96;
      const TouchingHalves reference(finest);
      return errors(
                 halves, cells, [&](double b) { return reference.resistance(b); }, 3)
          .worst();
    });
    EXPECT_TRUE(order_within(study, 2, 0.2)) << g;
  }
}

// The heat of the contact alone, and the sum of all heat.
TEST(ContactEdge, leaves_the_contact_its_heat) {
  for (const double bi : {1000.0, 100.0, 10.0, 1.0}) {
    Halves h;
    h.k_upper = 5.5;
    h.g = bi;
    const TouchingHalves halves(h);
    const mesh::AxisymmetricGrid& grid = halves.grid();
    Potential potential(grid, {0, grid.nz()}, {halves.plane()},
                        {{0, halves.plane().below + 1, grid.nr()}});
    Band band;
    for (const double b : sweep_through_columns(h.cells)) {
      const PotentialOutcome out =
          potential.solve(halves.conductivity(), {std::vector<double>(halves.plane().columns, h.g)},
                          {halves.edge(b)}, 1e-13);
      ASSERT_TRUE(out.converged);
      EXPECT_NEAR_RELATIVE(potential.find_heat(), out.resistance, 1e-10);
      EXPECT_GE(potential.bulk_heat().minCoeff(), 0);
      double heat = 0;
      for (const double q : potential.contacts()[0].heat) heat += q;
      const double error =
          heat / half_spaces_with_film(h.k_lower, h.k_upper, b, h.g).contact_heat - 1;
      band.least = std::min(band.least, error);
      band.most = std::max(band.most, error);
    }
    EXPECT_LE(band.worst(), bi > 500 ? 0.03 : 0.006) << bi;
  }
}

// Flow into an isothermal disc on a half-space over its steady value, tau = 4 Fo from 1 on: Aoki &
// Osteryoung, J. Electroanal. Chem. 122 (1981) 19, long times; from memory, the first two terms
// checked against 4/pi^(3/2) and 32 (1/9 - 1/pi^2)/pi^(3/2).
double isothermal_disc(double tau) {
  return 1 + 0.718353 / std::sqrt(tau) + 0.05626 / std::pow(tau, 1.5) -
         0.00646 / std::pow(tau, 2.5);
}

// Two bodies at +-100 K open to each other over a disc that the symmetry keeps at their mean.
TEST(ContactEdge, lets_the_right_heat_through_an_opening) {
  Halves h;
  h.cells = 12;
  const TouchingHalves halves(h);
  const mesh::AxisymmetricGrid& grid = halves.grid();
  const Enthalpy law(constant_metal({1, 1, 1}));
  Band band;
  for (const double b : sweep_through_columns(h.cells, 6)) {
    const FaceConductances faces = halves.faces(b);
    const auto n = static_cast<Eigen::Index>(grid.cells());
    HeatStep step(grid, std::vector<const Enthalpy*>(grid.cells(), &law), {1e-6, 30, 400});
    Field T(n), H(n), rate = Field::Zero(n);
    for (std::size_t c = 0; c < grid.cells(); ++c)
      T[static_cast<Eigen::Index>(c)] = grid.region(c) == 1 ? 400 : 600;
    for (Eigen::Index c = 0; c < n; ++c) H[c] = law.at(T[c]);
    double time = 0;
    for (const double moment : graded_moments(3 * b * b, 90, 3)) {
      if (moment <= time) continue;
      ASSERT_TRUE(step.advance(faces, Field::Zero(n), 500, moment - time, H, T, rate).converged);
      time = moment;
      if (time < b * b) continue;
      double flow = 0;
      for (std::size_t i = 0; i < halves.plane().columns; ++i) {
        const auto lower = static_cast<Eigen::Index>(grid.index(i, halves.plane().below));
        flow += faces.axial[lower] * (T[lower + static_cast<Eigen::Index>(grid.nr())] - T[lower]);
      }
      const double error = flow / (400 * b * isothermal_disc(4 * time / (b * b))) - 1;
      band.least = std::min(band.least, error);
      band.most = std::max(band.most, error);
    }
  }
  EXPECT_LE(band.worst(), 2e-3);
}

// A copper-like rod on a nickel-like sheet, touching over its whole flat end, against the plain
// scheme's limit (Aitken, 24 to 96 columns), good to 2e-4.
TEST(ContactEdge, corner_of_a_rod_costs_little) {
  for (const double g : {1e9, 10.0}) {
    Halves h;
    h.k_upper = 4;
    h.lower = 0.5;
    h.upper = 1;
    h.g = g;
    h.rod = true;
    const auto resistance = [&](int cells, bool sharp) {
      Halves on = h;
      on.cells = cells;
      return TouchingHalves(on).resistance(1, sharp);
    };
    const double a = resistance(24, false), b = resistance(48, false), c = resistance(96, false);
    const double limit = c - (b - c) * (b - c) / ((a - b) - (b - c));
    const auto error = [&](int cells, bool sharp) {
      return std::abs(resistance(cells, sharp) / limit - 1);
    };
    EXPECT_LT(error(10, true), 0.5 * error(10, false)) << g;
    EXPECT_LT(error(20, true), 0.3 * error(20, false)) << g;
    EXPECT_LT(error(40, true), 0.2 * error(40, false)) << g;
  }
}

}  // namespace
}  // namespace tabmelt
