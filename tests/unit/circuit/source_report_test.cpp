#include "solver/circuit/source_report.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/circuit/loop.h"

namespace tabmelt::circuit {
namespace {

// Invented bank: 2 x 10 parts of 4.7 mF, rated 16 V and 60 A each.
CapacitorBank invented_bank() {
  CapacitorBank bank;
  bank.part_capacitance = 4.7e-3;
  bank.part_esr = 0.02;
  bank.series = 2;
  bank.parallel = 10;
  bank.charge_voltage = 30;
  bank.rated_voltage = 16;
  bank.rated_current = 60;
  bank.tolerance = 0.2;
  return bank;
}

TEST(SourceReport, bank_figures) {
  Circuit circuit;
  circuit.source = invented_bank();
  const SourceReport report = source_report(circuit, {900, -3, 6});
  EXPECT_TRUE(report.is_bank);
  EXPECT_NEAR(report.stored_energy, 0.5 * 0.0235 * 900, 1e-12);
  EXPECT_NEAR(report.energy_left, 0.5 * 0.0235 * 36, 1e-12);
  EXPECT_DOUBLE_EQ(report.droop, 0.8);
  EXPECT_DOUBLE_EQ(report.peak_part_current, 90);
  EXPECT_TRUE(report.current_exceeded);
  EXPECT_DOUBLE_EQ(report.part_voltage, 15);
  EXPECT_FALSE(report.voltage_exceeded);
  // 0.8 and 1.2 parts share 30 V as 18 to 12.
  EXPECT_DOUBLE_EQ(report.worst_part_voltage, 18);
  EXPECT_TRUE(report.worst_voltage_exceeded);
  EXPECT_DOUBLE_EQ(report.reverse_voltage, 3);
  EXPECT_DOUBLE_EQ(report.reverse_part_voltage, 1.8);
  EXPECT_NEAR(report.least_energy, 0.5 * 0.0188 * 900, 1e-12);
  EXPECT_NEAR(report.most_energy, 0.5 * 0.0282 * 900, 1e-12);
}

TEST(SourceReport, unrated_parts_exceed_nothing_and_positive_voltages_are_no_reversal) {
  Circuit circuit;
  CapacitorBank bank = invented_bank();
  bank.rated_current.reset();
  bank.rated_voltage.reset();
  circuit.source = bank;
  const SourceReport report = source_report(circuit, {1e6, 2, 2});
  EXPECT_FALSE(report.current_exceeded || report.voltage_exceeded || report.worst_voltage_exceeded);
  EXPECT_EQ(report.reverse_voltage, 0);
}

// Capacitors of 0.8, 1.2, 1.2 carry the same charge q: V = q (1/0.8 + 2/1.2).
TEST(SourceReport, worst_part_carries_the_charge_of_the_string) {
  const double charge = 12 / (1 / 0.8 + 2 / 1.2);
  EXPECT_NEAR(worst_part_voltage(12, 3, 0.2), charge / 0.8, 1e-12);
  EXPECT_DOUBLE_EQ(worst_part_voltage(12, 3, 0), 4);
  EXPECT_DOUBLE_EQ(worst_part_voltage(12, 1, 0.5), 12);
  EXPECT_THROW(worst_part_voltage(12, 3, 1), std::invalid_argument);
  EXPECT_THROW(worst_part_voltage(12, 0, 0.1), std::invalid_argument);
}

// Three cells at 7.5 V with a board that keeps each within 8 % of its share.
TEST(SourceReport, balancing_decides_the_worst_cell_of_a_stack) {
  CapacitorBank stack;
  stack.series = 3;
  stack.supercapacitor = true;
  stack.balancing = 0.08;
  EXPECT_DOUBLE_EQ(worst_part_voltage(stack, 7.5), 2.7);
  stack.balancing.reset();
  EXPECT_DOUBLE_EQ(worst_part_voltage(stack, 7.5), worst_part_voltage(7.5, 3, 0.2));
  stack.series = 1;
  stack.balancing = 0.08;
  EXPECT_DOUBLE_EQ(worst_part_voltage(stack, 2.5), 2.5);
}

TEST(SourceReport, uneven_strings) {
  Circuit circuit;
  CapacitorBank bank = invented_bank();
  bank.esr_spread = 0.2;
  circuit.source = bank;
  const SourceReport report = source_report(circuit, {500, 5, 5});
  EXPECT_FALSE(report.current_exceeded);  // 50 A of 60 A, shared evenly
  // Conductances 1/0.8 beside nine of 1/1.2.
  EXPECT_NEAR(report.worst_part_current, 500 * 1.25 / (1.25 + 7.5), 1e-9);
  EXPECT_TRUE(report.worst_current_exceeded);
}

// 30 A through 10 mohm behind 2 V leave 1.7 V of 15 V at the terminals.
TEST(SourceReport, bench_supply_droops_to_what_its_current_takes) {
  Circuit circuit;
  circuit.source.emplace<BenchSupply>(BenchSupply{15, 30, 0.01});
  EXPECT_NEAR(source_report(circuit, {30, 2, 15}).droop, (15 - 1.7) / 15, 1e-12);
}

TEST(SourceReport, output_capacitor_of_a_supply_adds_a_surge) {
  Circuit circuit;
  circuit.source.emplace<BenchSupply>(BenchSupply{15, 30, 0.01, 2e-3, 0.02});
  const SourceReport report = source_report(circuit, {250, 2, 15});
  EXPECT_DOUBLE_EQ(report.surge, 220);
  EXPECT_DOUBLE_EQ(report.stored_energy, 0.5 * 2e-3 * 225);
  EXPECT_NEAR(report.droop, 13.0 / 15, 1e-12);
  EXPECT_FALSE(report.is_bank);
}

TEST(SourceReport, battery_and_prescribed_currents) {
  Circuit circuit;
  circuit.source = Battery{12.6, 0.006, 700};
  const SourceReport battery = source_report(circuit, {1050, 12.6, 12.6});
  EXPECT_FALSE(battery.is_bank);
  EXPECT_DOUBLE_EQ(battery.droop, 0.5);
  EXPECT_TRUE(battery.current_exceeded);
  circuit.source = ExponentialCurrent{1000, 1e-3};
  const SourceReport prescribed = source_report(circuit, {1000, 0, 0});
  EXPECT_EQ(prescribed.peak_current, 1000);
  EXPECT_EQ(prescribed.stored_energy, 0);
}

TEST(SourceReport, record_of_a_ringing_discharge_shows_its_reverse_voltage) {
  Circuit circuit;
  CapacitorBank bank;
  bank.part_capacitance = 0.05;
  bank.charge_voltage = 20;
  circuit.source = bank;
  circuit.extra_inductance = 2e-6;
  const Loop loop(circuit);
  // Lowest voltage where the current first vanishes: -V0 exp(-pi alpha/w), textbook.
  const double alpha = 1000, w = std::sqrt(1e7 - 1e6);
  const LoopState state =
      loop.advance(loop.close_switch(loop.initial_state()), std::numbers::pi / w, 0.004).state;
  const SourceReport report = source_report(circuit, {2085.4, state.source_voltage, 0});
  EXPECT_NEAR(report.reverse_voltage, 20 * std::exp(-std::numbers::pi * alpha / w), 1e-10);
}

// Closed form evaluated in 30-digit arithmetic; the energy also by quadrature.
TEST(SourceReport, freewheel_path_takes_the_inductance_s_energy) {
  const Freewheel path = freewheel(1.5e-6, 1200, 1e-3, 0.7);
  EXPECT_NEAR(path.time, 1.49779324517e-3, 1e-14);
  EXPECT_NEAR(path.diode_energy, 0.526081309868, 1e-12);
  // Without resistance the diode takes it all, in a time L I/V_d.
  EXPECT_DOUBLE_EQ(freewheel(1.5e-6, 1200, 0, 0.7).diode_energy, 1.08);
  EXPECT_DOUBLE_EQ(freewheel(1.5e-6, 1200, 0, 0.7).time, 1.8e-3 / 0.7);
  // No jump where the series takes over, x = I R/V_d = 0.02.
  const double r = 0.02 * 0.7 / 1200;
  EXPECT_NEAR(freewheel(1.5e-6, 1200, r * (1 - 1e-12), 0.7).diode_energy,
              freewheel(1.5e-6, 1200, r * (1 + 1e-12), 0.7).diode_energy, 1e-13);
  EXPECT_EQ(freewheel(1.5e-6, 0, 1e-3, 0.7).diode_energy, 0);
  EXPECT_THROW(freewheel(1.5e-6, 1200, 1e-3, 0), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::circuit
