// One implicit heat step: books, order in time, damping, and what a uniform body must do.
// Catches: a stage that uses the wrong base, heat lost when the iteration stops early, a method
// that rings after a sudden change, latent heat that leaks.
#include "solver/heat_conduction/heat_step.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "tests/support/near.h"

namespace tabmelt {
namespace {

using Index = Eigen::Index;
using mesh::AxisymmetricGrid;

constexpr HeatStepLimits tight{1e-10, 60, 400};

Material metal(double k, double melting_from = 0) {
  Material m;
  m.name = "metal";
  m.density = 8000;
  m.specific_heat = Curve::constant(500);
  m.thermal_conductivity = Curve::constant(k);
  if (melting_from > 0) m.melting = Melting{melting_from, melting_from + 20, 2.5e5};
  return m;
}

std::vector<double> edges(double to, int cells, double growth = 1) {
  std::vector<double> e{0};
  for (int n = 0; n < cells; ++n) e.push_back(e.back() + std::pow(growth, n));
  const double scale = to / e.back();
  for (double& x : e) x *= scale;
  return e;
}

AxisymmetricGrid cylinder(int nr, int nz, double growth = 1) {
  const double r = 1e-3, z = 1e-3;
  return {edges(r, nr, growth), edges(z, nz, growth), {{"all", 1, 0, z, r, r}}};
}

// Holds top and bottom at the fixed temperature.
void hold_ends(const AxisymmetricGrid& grid, double k, FaceConductances& faces) {
  for (std::size_t i = 0; i < grid.nr(); ++i) {
    const std::size_t top = grid.index(i, grid.nz() - 1);
    faces.boundary[static_cast<Index>(i)] += k / grid.bottom_outer(i);
    faces.boundary[static_cast<Index>(top)] += k / grid.axial_inner(top);
  }
}

// A cylinder of a metal that melts at 1400 K, both ends held.
struct HeldCylinder {
  HeldCylinder(int nr, int nz, double growth, HeatStepLimits limits)
      : grid(cylinder(nr, nz, growth)),
        cells(static_cast<Index>(grid.cells())),
        step(grid, std::vector<const Enthalpy*>(grid.cells(), &law), limits) {
    const Field k = Field::Constant(cells, 60.0);
    set_faces(grid, {0, grid.nz()}, k, k, faces);
    hold_ends(grid, 60, faces);
  }
  AxisymmetricGrid grid;
  Index cells;
  Enthalpy law{metal(60, 1400)};
  FaceConductances faces;
  HeatStep step;
};

Field volumes(const AxisymmetricGrid& grid) {
  return Eigen::Map<const Field>(grid.volumes().data(), static_cast<Index>(grid.cells()));
}

TEST(HeatStep, uniform_heating_without_losses_is_exact) {
  const AxisymmetricGrid grid = cylinder(5, 7, 1.3);
  const Material m = metal(60);
  const Enthalpy law(m);
  const auto n = static_cast<Index>(grid.cells());
  FaceConductances faces;
  set_faces(grid, {0, grid.nz()}, Field::Constant(n, 60.0), Field::Constant(n, 60.0), faces);
  HeatStep step(grid, std::vector<const Enthalpy*>(grid.cells(), &law), tight);
  Field H = Field::Constant(n, law.at(300)), T = Field::Constant(n, 300.0), rate = Field::Zero(n);
  const double power = 4e12;  // [W/m^3]
  ASSERT_TRUE(step.advance(faces, power * volumes(grid), 0, 1e-4, H, T, rate).converged);
  for (Index c = 0; c < n; ++c) {
    EXPECT_NEAR(T[c], 300 + power * 1e-4 / (8000 * 500.0), 1e-8);
    EXPECT_NEAR_RELATIVE(rate[c], power, 1e-9);
  }
}

// Random bodies that melt, with held ends and random heat: what goes in is stored or conducted out
// to round-off, however early the iteration stops.
TEST(HeatStep, energy_is_conserved_to_round_off) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> share(0, 1);
  for (const double newton_tolerance : {1e-8, 1e-3, 1.0}) {
    for (int trial = 0; trial < 10; ++trial) {
      const AxisymmetricGrid grid = cylinder(6 + trial, 5 + 2 * trial, 1.1);
      const Material a = metal(60, 1400), b = metal(20, 900);
      const Enthalpy law_a(a), law_b(b);
      const auto n = static_cast<Index>(grid.cells());
      std::vector<const Enthalpy*> law(grid.cells());
      Field k(n), H(n), T(n), rate = Field::Zero(n), heat(n);
      for (Index c = 0; c < n; ++c) {
        const bool upper = static_cast<std::size_t>(c) / grid.nr() > grid.nz() / 2;
        law[static_cast<std::size_t>(c)] = upper ? &law_a : &law_b;
        k[c] = (upper ? 60 : 20) * (0.5 + share(random));
        T[c] = 300 + 1500 * share(random);
        H[c] = law[static_cast<std::size_t>(c)]->at(T[c]);
        heat[c] = 3e13 * share(random) * grid.volume(static_cast<std::size_t>(c));
      }
      FaceConductances faces;
      set_faces(grid, {0, grid.nz()}, k, k, faces);
      hold_ends(grid, 40, faces);
      HeatStep step(grid, law, {newton_tolerance, 60, 400});
      const Field V = volumes(grid);
      double in = 0, out = 0, moved = 0;
      const Field start = H;
      for (int s = 0; s < 5; ++s) {
        const double dt = 2e-5 * (1 + s);
        const HeatStepOutcome outcome = step.advance(faces, heat, 293.15, dt, H, T, rate);
        ASSERT_TRUE(outcome.converged);
        in += heat.sum() * dt;
        out += outcome.conducted_out;
        moved += ((H - start).abs() * V).sum();
      }
      const double stored = ((H - start) * V).sum();
      EXPECT_NEAR(in - out, stored, 1e-12 * moved);
    }
  }
}

// Decay of the discrete fundamental mode cos(pi z/Z): on even cells it decays by itself with
//   lambda = (4 k/(rho c dz^2)) sin^2(pi dz/(2 Z)),
// so all that is left is the error in time. Two-stage method of Alexander, SIAM J. Numer. Anal. 14
// (1977) 1006: second order.
TEST(HeatStep, second_order_in_time) {
  const int cells = 12;
  const AxisymmetricGrid grid = cylinder(2, cells);
  const Material m = metal(60);
  const Enthalpy law(m);
  const auto n = static_cast<Index>(grid.cells());
  FaceConductances faces;
  set_faces(grid, {0, grid.nz()}, Field::Constant(n, 60.0), Field::Constant(n, 60.0), faces);
  const double dz = 1e-3 / cells;
  const double s = std::sin(M_PI / (2 * cells));
  const double lambda = 4 * 60 / (8000 * 500 * dz * dz) * s * s;
  const double end = 1.0 / lambda;

  const auto error = [&](int steps) {
    Field T(n), H(n), rate(n);
    for (Index c = 0; c < n; ++c) {
      const double mode = std::cos(M_PI * grid.z_centre(static_cast<std::size_t>(c) / 2) / 1e-3);
      T[c] = 1000 + 200 * mode;
      H[c] = law.at(T[c]);
      rate[c] = -lambda * 8000 * 500 * 200 * mode;
    }
    HeatStep step(grid, std::vector<const Enthalpy*>(grid.cells(), &law), tight);
    const Field none = Field::Zero(n);
    for (int k = 0; k < steps; ++k)
      EXPECT_TRUE(step.advance(faces, none, 0, end / steps, H, T, rate).converged);
    const double mode = std::cos(M_PI * grid.z_centre(0) / 1e-3);
    return std::abs((T[0] - 1000) / (200 * mode) - std::exp(-1.0));
  };
  std::vector<double> e;
  for (const int steps : {8, 16, 32, 64}) e.push_back(error(steps));
  for (std::size_t k = 1; k < e.size(); ++k) {
    const double order = std::log2(e[k - 1] / e[k]);
    EXPECT_GT(order, 1.85) << e[k - 1] << " -> " << e[k];
    EXPECT_LT(order, 2.15) << e[k - 1] << " -> " << e[k];
  }
}

// The factor of one step on T' = -lambda T must be Alexander's
//   (1 + (1 - 2 gamma) x)/(1 - gamma x)^2 at x = -lambda dt,  gamma = 1 - 1/sqrt 2.
TEST(HeatStep, one_step_multiplies_by_the_methods_stability_function) {
  const AxisymmetricGrid grid = cylinder(1, 1);
  const Material m = metal(60);
  const Enthalpy law(m);
  FaceConductances faces;
  const Field k = Field::Constant(1, 60.0);
  set_faces(grid, {0, 1}, k, k, faces);
  faces.boundary[0] = 0.7;  // [W/K] to 400 K
  const double lambda = 0.7 / (8000 * 500 * grid.volume(0));
  HeatStep step(grid, {&law}, {1e-11, 60, 400});
  for (const double x : {-0.1, -1.0, -10.0, -1e4}) {
    Field H = Field::Constant(1, law.at(1400)), T = Field::Constant(1, 1400.0);
    Field rate = Field::Zero(1);
    const Field none = Field::Zero(1);
    ASSERT_TRUE(step.advance(faces, none, 400, -x / lambda, H, T, rate).converged);
    const double g = 1 - 1 / std::sqrt(2.0);
    EXPECT_NEAR((T[0] - 400) / 1000, (1 + (1 - 2 * g) * x) / ((1 - g * x) * (1 - g * x)), 1e-9);
  }
}

// C T' = q t - g (T - T0) from T = T0:  T - T0 = q/g (t - tau (1 - exp(-t/tau))),  tau = C/g. Each
// step is told the mean of its heat and how much of it that rises. Catches: a tilt at the wrong
// times, or none.
TEST(HeatStep, heat_that_rises_within_the_steps_is_of_second_order_and_loses_nothing) {
  const AxisymmetricGrid grid = cylinder(1, 1);
  const Enthalpy law(metal(60));
  FaceConductances faces;
  const Field k = Field::Constant(1, 60.0);
  set_faces(grid, {0, 1}, k, k, faces);
  const double g = 0.7, tau = 8000 * 500 * grid.volume(0) / g, end = 2 * tau, q = 100 * g / tau;
  faces.boundary[0] = g;
  const double exact = 400 + q / g * (end - tau * (1 - std::exp(-end / tau)));
  const auto error = [&](int steps, bool tilted) {
    HeatStep step(grid, {&law}, {1e-11, 60, 400});
    Field H = Field::Constant(1, law.at(400)), T = Field::Constant(1, 400.0), rate = Field::Zero(1);
    const double dt = end / steps, start = H[0];
    double left = 0;
    for (int n = 0; n < steps; ++n) {
      const double middle = (n + 0.5) * dt;
      const Field heat = Field::Constant(1, q * middle);
      const HeatStepOutcome outcome =
          step.advance(faces, heat, tilted ? dt / middle : 0, 400, dt, H, T, rate, H, T, rate);
      EXPECT_TRUE(outcome.converged);
      left += outcome.conducted_out;
    }
    const double in = 0.5 * q * end * end;
    EXPECT_NEAR((H[0] - start) * grid.volume(0), in - left, 1e-12 * in);
    return std::abs(T[0] - exact);
  };
  for (const int steps : {5, 10, 20}) {
    const double order = std::log2(error(steps, true) / error(2 * steps, true));
    EXPECT_GT(order, 1.85) << steps;
    EXPECT_LT(order, 2.15) << steps;
    EXPECT_LT(error(steps, true), 0.3 * error(steps, false)) << steps;
  }
}

// L-stable: a step far beyond every time constant lands on the steady state instead of ringing.
// The slowest mode, pi^2 alpha/Z^2 = 148 1/s, is left with the factor 4.8/(148 dt).
TEST(HeatStep, huge_step_gives_the_steady_state) {
  HeldCylinder body(4, 15, 1.2, tight);
  auto& [grid, n, law, faces, step] = body;
  Field H(n), T(n), rate = Field::Zero(n);
  for (Index c = 0; c < n; ++c) {
    T[c] = c % 2 == 0 ? 300 : 1900;  // as rough as it gets, half of it molten
    H[c] = law.at(T[c]);
  }
  const Field none = Field::Zero(n);
  ASSERT_TRUE(step.advance(faces, none, 500, 1e4, H, T, rate).converged);
  EXPECT_LT((T - 500).abs().maxCoeff(), 1e-2);
}

TEST(HeatStep, empty_cells_keep_their_value) {
  const std::vector<double> r{0, 1e-3, 2e-3}, z{0, 1e-3, 2e-3};
  const AxisymmetricGrid grid(
      r, z, {{"sheet", 1, 0, 1e-3, 2e-3, 2e-3}, {"rod", 1, 1e-3, 2e-3, 1e-3, 1e-3}});
  const Material m = metal(60);
  const Enthalpy law(m);
  std::vector<const Enthalpy*> laws(4, &law);
  laws[3] = nullptr;
  Field k = Field::Constant(4, 60.0), H = Field::Constant(4, law.at(800)), rate = Field::Zero(4);
  Field T = Field::Constant(4, 800.0), heat = Field::Zero(4);
  k[3] = 0;
  T[3] = 293.15;
  H[3] = 0;
  heat[0] = 1;
  FaceConductances faces;
  set_faces(grid, {0, 2}, k, k, faces);
  HeatStep step(grid, laws, tight);
  ASSERT_TRUE(step.advance(faces, heat, 0, 1e-3, H, T, rate).converged);
  EXPECT_EQ(T[3], 293.15);
  EXPECT_GT(T[0], T[1]);
  EXPECT_GT(T[1], 800);
}

// Melting a uniform body takes its latent heat: rate and time are known exactly.
TEST(HeatStep, uniform_body_melts_on_time) {
  const AxisymmetricGrid grid = cylinder(2, 3);
  const Material m = metal(60, 1400);
  const Enthalpy law(m);
  const auto n = static_cast<Index>(grid.cells());
  FaceConductances faces;
  set_faces(grid, {0, grid.nz()}, Field::Constant(n, 60.0), Field::Constant(n, 60.0), faces);
  HeatStep step(grid, std::vector<const Enthalpy*>(grid.cells(), &law), {1e-6, 60, 400});
  Field H = Field::Constant(n, law.at(1000)), T = Field::Constant(n, 1000.0), rate = Field::Zero(n);
  // Heat to reach 1600 K: sensible over 600 K plus the latent heat.
  const double needed = 8000 * (500 * 600.0 + 2.5e5);
  const Field heat = needed / 1e-3 * volumes(grid);
  for (int s = 0; s < 10; ++s)
    ASSERT_TRUE(step.advance(faces, heat, 0, 1e-4, H, T, rate).converged);
  EXPECT_NEAR(T.maxCoeff(), 1600, 1e-6);
  EXPECT_NEAR(T.minCoeff(), 1600, 1e-6);
}

TEST(HeatStep, gives_up_when_the_iteration_limit_is_too_low) {
  HeldCylinder body(2, 9, 1, HeatStepLimits{1e-9, 1, 400});
  auto& [grid, n, law, faces, step] = body;
  Field H = Field::Constant(n, law.at(1390)), T = Field::Constant(n, 1390.0), rate = Field::Zero(n);
  const Field heat = 1e14 * volumes(grid), H0 = H, T0 = T, rate0 = rate;
  EXPECT_FALSE(step.advance(faces, heat, 300, 1e-4, H, T, rate).converged);
  EXPECT_TRUE((H == H0).all() && (T == T0).all() && (rate == rate0).all())
      << "nothing is written unless the step converges";
}

TEST(HeatStep, into_other_fields_is_the_same_as_in_place) {
  HeldCylinder body(4, 9, 1.2, tight);
  auto& [grid, n, law, faces, step] = body;
  Field H = Field::LinSpaced(n, law.at(1300), law.at(1450)), T(n), rate = Field::Zero(n);
  step.temperatures(H, T);
  const Field heat = 1e13 * volumes(grid), H0 = H, T0 = T, rate0 = rate;
  Field H1, T1, rate1;
  ASSERT_TRUE(step.advance(faces, heat, 0, 300, 1e-5, H0, T0, rate0, H1, T1, rate1).converged);
  ASSERT_TRUE(step.advance(faces, heat, 300, 1e-5, H, T, rate).converged);
  EXPECT_TRUE((H1 == H).all());
  EXPECT_TRUE((T1 == T).all());
  EXPECT_TRUE((rate1 == rate).all());
  EXPECT_TRUE((H1 != H0).all()) << "the step must change something";
}

}  // namespace
}  // namespace tabmelt
