// A rod heated by its own current and losing nothing: alone on a prescribed current, and fired by a
// capacitor whose discharge it slows down as it warms.
//
// Exact: tests/support/joule_heating.h, closed forms of the coupled equations for resistivity that
// rises straight with temperature.
// Catches: a resistance taken at the start of the step (first order), Joule heat that is not that
// of the circuit, latent heat during melting, polarity that matters.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/phase_change/enthalpy.h"
#include "solver/solve.h"
#include "tests/support/joule_heating.h"
#include "tests/support/near.h"
#include "tests/verification/weld_problem.h"

namespace tabmelt {
namespace {

constexpr double radius = 0.5e-3, length = 4e-3, T0 = 300;
const double area = std::numbers::pi * radius * radius;
// Round numbers near nickel.
const exact::AdiabaticRod rod{8900, 500, 8e-8, 5e-3};

MaterialPtr rod_metal(std::optional<Melting> melting = {}) {
  auto m = std::make_shared<Material>();
  m->name = "rod metal";
  m->density = rod.density;
  m->specific_heat = Curve::constant(rod.specific_heat);
  m->thermal_conductivity = Curve::constant(80);
  const double end = melting ? 1728 : 4300;
  m->resistivity = {{T0, end}, {rod.resistivity, rod.resistivity * (1 + rod.beta * (end - T0))}};
  m->melting = melting;
  return m;
}

Problem on_current(double current, double time, double tolerance) {
  Problem p = lone_rod(rod_metal(), radius, length);
  p.circuit.source = circuit::TableCurrent{{0, 1}, {current, current}};
  p.numerics.end_time = time;
  p.numerics.resolution = 0.5;
  p.numerics.step_tolerance = tolerance;
  return p;
}

TEST(HeatedRod, constant_current_heats_it_exponentially) {
  const double J = 2e9;
  for (const double time : {1e-3, 2e-3, 5e-3}) {
    const Result r = solve(on_current(J * area, time, 1e-4));
    ASSERT_EQ(r.ending, Ending::finished);
    for (const double T : r.history.back().probes)
      EXPECT_NEAR_RELATIVE(T - T0, rod.rise_at_current(J, time), 1e-3);
  }
  EXPECT_NEAR_RELATIVE(rod.rise_at_current(J, 5e-3), 1007.21360291, 1e-10);
}

TEST(HeatedRod, polarity_leaves_the_temperature_as_it_is) {
  const Result there = solve(on_current(1500, 2e-3, 1e-3));
  const Result back = solve(on_current(-1500, 2e-3, 1e-3));
  ASSERT_EQ(there.history.size(), back.history.size());
  for (std::size_t k = 0; k < there.history.back().probes.size(); ++k)
    EXPECT_NEAR(there.history.back().probes[k], back.history.back().probes[k], 1e-6);
  EXPECT_EQ(there.history.back().current, -back.history.back().current);
}

// Action int J^2 dt to the melting point, then rho L/(J^2 rho_e) to melt.
TEST(HeatedRod, melts_when_its_action_says_and_takes_its_time) {
  const double J = 2e9, L = 298000;
  Problem p = on_current(J * area, 8e-3, 1e-4);
  p.electrode.material = rod_metal(Melting{1718, 1738, L});
  p.numerics.longest_step = 2e-6;  // the moments below lie on kinks within a step
  const Result r = solve(p);
  ASSERT_EQ(r.ending, Ending::finished);
  const auto moment = [&](double T) {
    std::size_t n = 1;
    while (n + 1 < r.history.size() && r.history[n].probes[0] < T) ++n;
    const auto &a = r.history[n - 1], &b = r.history[n];
    return a.time + (T - a.probes[0]) / (b.probes[0] - a.probes[0]) * (b.time - a.time);
  };
  const double start = moment(1718), end = moment(1738);
  EXPECT_NEAR_RELATIVE(start, rod.time_to_rise(J, 1718 - T0), 2e-3);
  EXPECT_NEAR_RELATIVE(J * J * start, rod.action_to_rise(1718 - T0), 2e-3);
  // The range of 20 K takes its sensible heat as well, 500 J/kg/K over it.
  EXPECT_NEAR_RELATIVE(end - start, rod.melting_time(J, 1728 - T0, L + 500 * 20), 1e-2);
}

// All of the bank's loss heats the rod: th = C (V0^2 - V^2)/(2 mc) whatever the time, and the time
// at each voltage follows in closed form.
TEST(HeatedRod, capacitor_and_rod_discharge_each_other) {
  const double V0 = 5, C = 1;
  const double R0 = rod.resistivity * length / area;
  const double mc = rod.density * rod.specific_heat * area * length;
  const exact::CapacitorFiredRod fired{C, V0, R0, rod.beta, mc};
  for (const double tolerance : {1e-3, 1e-4}) {
    Problem p = lone_rod(rod_metal(), radius, length);
    circuit::CapacitorBank bank;
    bank.part_capacitance = C;
    bank.charge_voltage = V0;
    p.circuit.source = bank;
    p.numerics.resolution = 0.5;
    p.numerics.step_tolerance = tolerance;
    p.numerics.end_time = fired.time_at_voltage(4.0);
    const Result r = solve(p);
    ASSERT_EQ(r.ending, Ending::finished);
    const auto& last = r.history.back();
    EXPECT_NEAR_RELATIVE(last.source_voltage, 4.0, tolerance);
    for (const double T : last.probes)
      EXPECT_NEAR_RELATIVE(T - T0, fired.rise_at_voltage(4.0), 3 * tolerance);
    // Energy: exact at the voltage reached, whatever the steps.
    for (const double T : last.probes)
      EXPECT_NEAR_RELATIVE(T - T0, fired.rise_at_voltage(last.source_voltage), 1e-5);
    for (const auto& record : r.history) {
      if (record.time < 1e-5) continue;
      EXPECT_NEAR(record.source_voltage, fired.voltage_at_time(record.time), 5 * tolerance);
    }
  }
}

// The bank's steps halve: the error in voltage falls with their square, once the first step, which
// has no history to extrapolate from, weighs little.
TEST(HeatedRod, coupling_is_second_order_in_time) {
  const double R0 = rod.resistivity * length / area;
  const double mc = rod.density * rod.specific_heat * area * length;
  const exact::CapacitorFiredRod fired{1, 5, R0, rod.beta, mc};
  const double end = fired.time_at_voltage(4.5);
  std::vector<double> errors;
  for (const double step : {end / 32, end / 64, end / 128, end / 256}) {
    Problem p = lone_rod(rod_metal(), radius, length);
    circuit::CapacitorBank bank;
    bank.part_capacitance = 1;
    bank.charge_voltage = 5;
    p.circuit.source = bank;
    p.numerics.resolution = 0.5;
    p.numerics.step_tolerance = 10;  // steps are set by their limits alone
    p.numerics.first_step = p.numerics.longest_step = step;
    p.numerics.coupling_tolerance = 1e-10;
    p.numerics.coupling_limit = 40;
    p.numerics.end_time = end;
    const Result r = solve(p);
    errors.push_back(std::abs(r.history.back().source_voltage - 4.5));
  }
  for (std::size_t k = 1; k < errors.size(); ++k) {
    const double order = std::log2(errors[k - 1] / errors[k]);
    EXPECT_NEAR(order, 2, 0.15);
  }
}

// Four times the energy that boils it: what is left stands at the end of the boiling range, the
// rest is booked as thrown off.
TEST(HeatedRod, gets_no_hotter_than_it_boils) {
  Problem p = on_current(6e9 * area, 8e-3, 1e-2);
  auto metal = std::make_shared<Material>(*p.electrode.material);
  metal->boiling = Boiling{2800, 1e6};
  p.electrode.material = metal;
  const Result r = solve(p);
  ASSERT_EQ(r.ending, Ending::finished) << r.ending_reason;
  const double end = 2800 + Enthalpy::boiling_width;
  EXPECT_NEAR(r.peak_temperature_any.value, end, 1e-6);
  for (const double T : r.history.back().probes) EXPECT_NEAR(T, end, 1e-6);
  EXPECT_GT(r.ledger.expelled, 0.5 * r.ledger.electrodes);
  EXPECT_LE(r.worst_energy_residual, 1e-9);
}

}  // namespace
}  // namespace tabmelt
