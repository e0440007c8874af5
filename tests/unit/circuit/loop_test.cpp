#include "solver/circuit/loop.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>
#include <vector>

#include "tests/unit/circuit/bank_circuit.h"

namespace tabmelt::circuit {
namespace {

// Natural response of a series RLC loop, closed form evaluated in 30-digit arithmetic; e.g.
// Nilsson and Riedel, Electric Circuits, "Natural and step responses of RLC circuits". The energy
// is that lost in the resistance since the closing.
TEST(Loop, bank_discharge_has_the_published_current_voltage_and_energy) {
  struct Row {
    double capacitance, voltage, inductance, resistance, time, current, end_voltage, energy;
  };
  const double critical = 0.012649110640673517;
  for (const Row& row : std::vector<Row>{
           {0.05, 20, 2e-6, 0.004, 0.000208174, 1582.74199136, 16.3411318633, 0.819113024459},
           {0.05, 20, 2e-6, 0.004, 0.00124905, -544.131269009, -5.80393907342, 8.86177844289},
           {0.05, 20, 2e-6, critical, 0.000158114, 959.009532503, 18.1959175475, 0.803015331721},
           {0.05, 20, 2e-6, critical, 0.000948683, 472.321898976, 3.98296828494, 9.38031111478},
           {1, 8, 1e-6, 0.004, 0.000380173, 1526.86377688, 7.63431886743, 1.6929312186},
           {1, 8, 1e-6, 0.004, 0.00228104, 1252.84282448, 4.67727986686, 20.2767189521},
           {10, 5.4, 5e-7, 0.0025, 0.000489101, 1958.44193842, 5.33402595529, 2.58196183489},
           {10, 5.4, 5e-7, 0.0025, 0.00293461, 1950.39218382, 4.83665803645, 27.8826877744}}) {
    // A quarter of the resistance is the load, the rest the loop.
    const Loop loop(
        bank_circuit(row.capacitance, row.voltage, 0.75 * row.resistance, row.inductance));
    const StepOutcome outcome = loop.advance(closed(loop), row.time, 0.25 * row.resistance);
    EXPECT_NEAR(outcome.state.current, row.current, 1e-11 * std::abs(row.current));
    EXPECT_NEAR(outcome.state.source_voltage, row.end_voltage, 1e-11 * row.voltage);
    EXPECT_NEAR(outcome.energy.in_load_resistance, 0.25 * row.energy, 1e-11 * row.energy);
    EXPECT_NEAR(outcome.energy.in_joints, 0.75 * row.energy, 1e-11 * row.energy);
    EXPECT_DOUBLE_EQ(outcome.state.time, row.time);
    EXPECT_LT(std::abs(outcome.state.current), loop.peak_current_bound());
  }
}

// C = 2 F at 6 V through 1 mohm and a load of 1.5 mohm; closed form in 30-digit arithmetic.
TEST(Loop, bank_without_inductance_splits_its_energy_by_resistance) {
  const Loop loop(bank_circuit(2, 6, 1e-3, 0));
  EXPECT_NEAR(loop.advance(closed(loop), 1e-3, 1.5e-3).energy.in_load_resistance, 7.12108700563,
              1e-10);
  EXPECT_NEAR(loop.advance(closed(loop), 5e-3, 1.5e-3).energy.in_load_resistance, 18.6767578821,
              1e-10);
  EXPECT_NEAR(loop.advance(closed(loop), 1, 1.5e-3).energy.in_load_resistance, 21.6, 1e-12);
}

// The load steps from 4 to 1.5 mohm after 2 ms; closed form in 30-digit arithmetic.
TEST(Loop, current_jumps_with_the_load_where_no_inductance_holds_it) {
  const Loop loop(bank_circuit(2, 6, 0, 0));
  const LoopState first = loop.advance(closed(loop), 2e-3, 4e-3).state;
  EXPECT_NEAR(first.source_voltage, 4.67280469843, 1e-10);
  EXPECT_NEAR(current_at_once(loop, first, 1.5e-3), 3115.20313229, 1e-7);
  const LoopState second = loop.advance(first, 2e-3, 1.5e-3).state;
  EXPECT_NEAR(second.source_voltage, 2.39909792607, 1e-10);
  EXPECT_NEAR(second.current, 1599.39861738, 1e-7);
  EXPECT_NEAR(loop.advance(second, 6e-3, 1.5e-3).state.source_voltage, 0.324682597337, 1e-11);
}

TEST(Loop, battery_current_rises_as_one_exponential) {
  const Loop loop(battery_circuit(12.6, 0.006, 1.2e-6));
  const double resistance = 0.008, tau = 1.2e-6 / resistance;
  const LoopState state = loop.advance(closed(loop), tau, 0.002).state;
  EXPECT_NEAR(state.current, 12.6 / resistance * (1 - std::exp(-1.0)), 1e-10);
  EXPECT_EQ(state.source_voltage, 12.6);
  EXPECT_NEAR(loop.advance(closed(loop), 100 * tau, 0.002).state.current, 1575, 1e-9);
  EXPECT_NEAR(loop.peak_current_bound(), 2100, 1e-9);
  EXPECT_EQ(loop.stored_energy(state), 0);
  // Without inductance at once.
  const Loop quick(battery_circuit(12.6, 0.006, 0));
  EXPECT_DOUBLE_EQ(quick.advance(closed(quick), 1e-6, 0.002).state.current, 1575);
  EXPECT_DOUBLE_EQ(current_at_once(quick, closed(quick), 0.002), 1575);
}

std::vector<Loop> all_kinds() {
  std::vector<Loop> loops;
  for (const double inductance : {0.0, 1e-12, 1e-8, 1e-6, 5e-6}) {
    loops.emplace_back(bank_circuit(0.05, 20, 0.002, inductance));
    loops.emplace_back(bank_circuit(2, 6, 0.002, inductance));
    loops.emplace_back(battery_circuit(12, 0.006, inductance));
    loops.emplace_back(behind_a_thyristor(bank_circuit(0.05, 20, 0.002, inductance), 1.7));
    loops.emplace_back(behind_a_thyristor(battery_circuit(12, 0.006, inductance), 1.7));
  }
  return loops;
}

TEST(Loop, many_steps_make_one) {
  for (const Loop& loop : all_kinds()) {
    const double end = 3e-3, load = 0.0007;
    const StepOutcome once = loop.advance(closed(loop), end, load);
    for (const int steps : {7, 1000}) {
      StepOutcome many{closed(loop), {}};
      StepEnergy sum;
      for (int n = 0; n < steps; ++n) {
        many = loop.advance(many.state, end / steps, load);
        sum.square_current += many.energy.square_current;
        sum.charge += many.energy.charge;
        sum.from_source += many.energy.from_source;
        sum.in_switch += many.energy.in_switch;
        sum.to_inductance += many.energy.to_inductance;
      }
      const double energy = once.energy.from_source;
      EXPECT_NEAR(many.state.current, once.state.current, 1e-10 * loop.peak_current_bound());
      EXPECT_NEAR(many.state.source_voltage, once.state.source_voltage, 1e-10 * 20);
      EXPECT_NEAR(sum.square_current, once.energy.square_current,
                  1e-10 * once.energy.square_current);
      EXPECT_NEAR(sum.charge, once.energy.charge, 1e-10 * std::abs(once.energy.charge));
      EXPECT_NEAR(sum.from_source, energy, 1e-10 * energy);
      EXPECT_NEAR(sum.in_switch, once.energy.in_switch, 1e-10 * energy);
      EXPECT_NEAR(sum.to_inductance, once.energy.to_inductance, 1e-10 * energy);
    }
  }
}

// Any loop, any state, steps from far below to far above every time constant.
TEST(Loop, books_of_every_step_close) {
  std::mt19937 random(20240611);
  const auto between = [&](double low, double high) {  // evenly in the logarithm
    return low * std::pow(high / low, std::generate_canonical<double, 53>(random));
  };
  for (int trial = 0; trial < 20000; ++trial) {
    const bool battery = trial % 4 == 0;
    const double inductance = trial % 5 == 0 ? 0 : between(1e-15, 1e-4);
    Circuit circuit =
        battery ? battery_circuit(between(1, 50), between(1e-5, 0.1), inductance)
                : bank_circuit(between(1e-4, 1e3), between(1, 50), between(1e-5, 0.1), inductance);
    circuit.power_switch.on_resistance = between(1e-5, 1e-2);
    circuit.leads.resistance = between(1e-5, 1e-2);
    const double drop = trial % 2 == 0 ? 0 : between(0.1, 20);
    if (drop > 0) circuit = behind_a_thyristor(circuit, drop);
    const Loop loop(circuit);
    LoopState state = closed(loop);
    state.current = trial % 3 == 0 ? 0 : (trial % 3 == 1 || drop > 0 ? 1 : -1) * between(1e-3, 3e3);
    const double dt = between(1e-13, 1);
    const StepOutcome outcome = loop.advance(state, dt, between(1e-5, 1e-1));
    const StepEnergy& e = outcome.energy;
    ASSERT_NEAR(e.from_source, sinks(e), 1e-13 * turnover(e))
        << "trial " << trial << ", step " << dt << ", inductance " << inductance;
    ASSERT_GE(e.square_current, 0);
    ASSERT_GE(e.in_switch, 0);
    if (!battery) {
      // The store gives up what its voltage says, to the digits of the energy in the loop.
      const double voltage =
          std::abs(state.source_voltage) + drop + std::abs(outcome.state.source_voltage);
      const double capacitance = std::get<CapacitorBank>(circuit.source).capacitance();
      ASSERT_NEAR(e.from_source, loop.stored_energy(state) - loop.stored_energy(outcome.state),
                  1e-13 * (0.5 * capacitance * voltage * voltage + turnover(e)));
    }
    if (inductance > 0) {
      ASSERT_NEAR(
          e.to_inductance,
          0.5 * inductance *
              (outcome.state.current * outcome.state.current - state.current * state.current),
          1e-13 * (turnover(e) + inductance * state.current * state.current));
    }
  }
}

TEST(Loop, very_short_steps_keep_their_digits) {
  const Loop loop(bank_circuit(0.05, 20, 0.004, 2e-6));
  LoopState state = closed(loop);
  state.current = 1234;
  for (const double dt : {1e-9, 1e-12, 1e-15, 1e-18, 1e-21}) {
    const StepEnergy e = loop.advance(state, dt, 0.001).energy;
    EXPECT_NEAR(e.square_current, 1234.0 * 1234 * dt, 1e-2 * e.square_current * (dt / 1e-9));
    EXPECT_NEAR(e.from_source, 20 * 1234.0 * dt, 1e-2 * e.from_source * (dt / 1e-9) + 1e-30);
    EXPECT_NEAR(e.from_source, sinks(e), 1e-13 * turnover(e));
  }
}

// The same loop marched by a fourth-order Runge-Kutta scheme knowing nothing of closed forms.
TEST(Loop, damped_loop_with_a_forward_drop_agrees_with_runge_kutta) {
  const double c = 0.05, l = 2e-6, r = 0.005, drop = 2.5;
  const Loop loop(behind_a_thyristor(bank_circuit(c, 20, 0.004, l), drop));
  const double end = 6e-4;  // before the current's first zero
  double v = 20, i = 0, square = 0;
  const int steps = 20000;
  const double h = end / steps;
  const auto slope = [&](double at_v, double at_i) { return (at_v - drop - r * at_i) / l; };
  for (int n = 0; n < steps; ++n) {
    const double a1 = slope(v, i), b1 = -i / c;
    const double i2 = i + h / 2 * a1, a2 = slope(v + h / 2 * b1, i2), b2 = -i2 / c;
    const double i3 = i + h / 2 * a2, a3 = slope(v + h / 2 * b2, i3), b3 = -i3 / c;
    const double i4 = i + h * a3, a4 = slope(v + h * b3, i4), b4 = -i4 / c;
    square += h / 6 * (i * i + 2 * i2 * i2 + 2 * i3 * i3 + i4 * i4);
    i += h / 6 * (a1 + 2 * a2 + 2 * a3 + a4);
    v += h / 6 * (b1 + 2 * b2 + 2 * b3 + b4);
  }
  const StepOutcome outcome = loop.advance(closed(loop), end, 0.001);
  EXPECT_NEAR(outcome.state.current, i, 1e-8 * std::abs(i));
  EXPECT_NEAR(outcome.state.source_voltage, v, 1e-8 * v);
  EXPECT_NEAR(outcome.energy.square_current, square, 1e-8 * square);
}

TEST(Loop, open_switch_keeps_the_bank_and_dumps_the_inductance) {
  const Loop loop(bank_circuit(1, 8, 0.003, 1e-6));
  LoopState state = loop.advance(closed(loop), 5e-4, 0.001).state;
  const double current = state.current, voltage = state.source_voltage;
  double dumped = -1;
  state = loop.open_switch(state, dumped);
  EXPECT_DOUBLE_EQ(dumped, 0.5e-6 * current * current);
  EXPECT_EQ(state.current, 0);
  const StepOutcome pause = loop.advance(state, 0.1, 0.001);
  EXPECT_EQ(pause.state.source_voltage, voltage);
  EXPECT_EQ(pause.state.current, 0);
  EXPECT_EQ(turnover(pause.energy), 0);
  EXPECT_DOUBLE_EQ(pause.state.time, 0.1005);
  loop.open_switch(pause.state, dumped);
  EXPECT_EQ(dumped, 0);
}

TEST(Loop, refuses_what_has_no_solution) {
  const Loop bank(bank_circuit(1, 8, 0, 0));
  EXPECT_THROW(bank.advance(closed(bank), 1e-3, 0), std::invalid_argument);
  EXPECT_NO_THROW(bank.advance(bank.initial_state(), 1e-3, 0));  // open
  EXPECT_NO_THROW(bank.advance(closed(bank), 1e-3, 1e-3));
  const Loop battery(battery_circuit(8, 0, 0));
  EXPECT_THROW(battery.advance(closed(battery), 1e-3, 0), std::invalid_argument);
  EXPECT_THROW(bank.advance(closed(bank), 0, 1e-3), std::invalid_argument);
  EXPECT_THROW(bank.advance(closed(bank), 1e-3, -1e-3), std::invalid_argument);
  EXPECT_THROW(bank.advance(closed(bank), 1e-3, NAN), std::invalid_argument);
  EXPECT_THROW(Loop(bank_circuit(0, 8, 1, 0)), std::invalid_argument);
  EXPECT_THROW(Loop(bank_circuit(1, 8, -1, 0)), std::invalid_argument);
  EXPECT_THROW(Loop(bank_circuit(1, 8, 1, -1)), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::circuit
