// A protection that opens in the middle of a pulse ends a step, and so does a thyristor that goes
// out, at the moment that the constant load of a weld with constant properties gives in closed
// form. Catches: a step that goes on over the end of the current, and spreads its heat over the
// rest.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "solver/solve.h"
#include "tests/verification/weld_problem.h"

namespace tabmelt {
namespace {

TEST(EndOfCurrent, a_step_ends_where_the_protection_opens) {
  constexpr double V = 2, r = 2e-3, L = 1e-6, cut = 300, delay = 0.7e-3;
  Problem p = three_code_problem();
  circuit::Battery battery;
  battery.open_circuit_voltage = V;
  battery.internal_resistance = r;
  battery.cut_off_current = cut;
  battery.cut_off_delay = delay;
  p.circuit.source = battery;
  p.circuit.leads.resistance = 0;
  p.circuit.leads.inductance = L;
  p.circuit.leads.cross_section = 25e-6;
  p.circuit.leads.length = 0.3;
  const Result result = solve(p);
  ASSERT_EQ(result.ending, Ending::finished);

  const double R = r + result.history[3].load_resistance;
  ASSERT_GT(V / R, 1.2 * cut);
  const double opens = -L / R * std::log1p(-cut * R / V) + delay;
  const auto last =
      std::find_if(result.history.begin(), result.history.end(),
                   [&](const StepRecord& s) { return s.time > 0.5 * delay && s.current == 0; });
  ASSERT_NE(last, result.history.end());
  EXPECT_NEAR(last->time, opens, 1e-3 * last->step + 1e-6 * opens);
  EXPECT_GT(last->step, 1e-6);
  EXPECT_LT(result.worst_energy_residual, 1e-9);
  // All that flowed, over a rise in closed form and a plateau.
  const double tau = L / R, I = V / R, x = opens / tau;
  const double square = I * I * tau * (x - 1.5 + 2 * std::exp(-x) - 0.5 * std::exp(-2 * x));
  EXPECT_NEAR(last->energy_in, result.history[3].load_resistance * square, 1e-3 * last->energy_in);
}

// i = (V - V_d)/(w L) exp(-a t) sin(w t),  a = R/(2 L),  w^2 = 1/(L C) - a^2: out at pi/w;
// int i^2 dt over it = ((V - V_d)/(w L))^2 w^2 (1 - exp(-2 pi a/w)) / (4 a (a^2 + w^2)).
TEST(EndOfCurrent, a_step_ends_where_the_thyristor_goes_out) {
  constexpr double V = 20, drop = 1.2, r = 0.5e-3, L = 2e-6, C = 10e-3;
  Problem p = three_code_problem();
  circuit::CapacitorBank bank;
  bank.part_capacitance = C;
  bank.part_esr = r;
  bank.charge_voltage = V;
  p.circuit.source = bank;
  p.circuit.leads = {};
  p.circuit.extra_inductance = L;
  p.circuit.power_switch.kind = circuit::SwitchKind::thyristor;
  p.circuit.power_switch.forward_drop = drop;
  const Result result = solve(p);
  ASSERT_EQ(result.ending, Ending::finished);

  const double load = result.history[3].load_resistance, a = (r + load) / (2 * L),
               w = std::sqrt(1 / (L * C) - a * a), I = (V - drop) / (w * L), pi = std::acos(-1.0);
  const auto last = std::find_if(result.history.begin(), result.history.end(),
                                 [&](const StepRecord& s) { return s.current == 0; });
  ASSERT_NE(last, result.history.end());
  EXPECT_NEAR(last->time, pi / w, 1e-3 * last->step + 1e-6 * pi / w);
  EXPECT_GT(last->step, 1e-6);
  EXPECT_LT(result.worst_energy_residual, 1e-9);
  const double square = I * I * w * w * (1 - std::exp(-2 * pi * a / w)) / (4 * a * (a * a + w * w));
  EXPECT_NEAR(last->energy_in, load * square, 1e-3 * last->energy_in);
}

}  // namespace
}  // namespace tabmelt
