// Figures from data sheets: capacitors, transistors at turn-off, warming of leads.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/circuit/capacitor.h"
#include "solver/circuit/lead_heating.h"
#include "solver/circuit/turn_off.h"

namespace tabmelt::circuit {
namespace {

// tan d = w C R by definition (IEC 60384-4): a series R-C has the phase it should at 120 Hz.
TEST(Capacitor, dissipation_factor_is_resistance_over_reactance) {
  const double C = 3.3e-3, tan_d = 0.14;
  const double R = esr_from_dissipation(tan_d, C);
  const double reactance = 1 / (2 * std::numbers::pi * 120 * C);
  EXPECT_NEAR(R / reactance, tan_d, 1e-15);
  EXPECT_NEAR(R, 56.27e-3, 0.01e-3);  // 0.14/(753.98 * 3.3e-3) by hand
  EXPECT_NEAR(esr_from_dissipation(tan_d, C, 100) / R, 1.2, 1e-12);
  EXPECT_THROW(esr_from_dissipation(0.1, 0), std::invalid_argument);
  EXPECT_THROW(esr_from_dissipation(-0.1, 1e-3), std::invalid_argument);
}

TEST(Capacitor, esr_factor_is_straight_between_points_and_constant_beyond) {
  const std::vector<std::pair<double, double>> table{{263.15, 4}, {293.15, 1}, {333.15, 0.6}};
  EXPECT_DOUBLE_EQ(esr_factor_at(table, 200), 4);
  EXPECT_DOUBLE_EQ(esr_factor_at(table, 278.15), 2.5);
  EXPECT_DOUBLE_EQ(esr_factor_at(table, 313.15), 0.8);
  EXPECT_DOUBLE_EQ(esr_factor_at(table, 400), 0.6);
  EXPECT_DOUBLE_EQ(esr_factor_at({}, 250), 1);
}

// Conductances 1/0.7 beside three of 1/1.3.
TEST(Capacitor, the_string_of_least_resistance_carries_most) {
  const double best = 1 / 0.7, other = 1 / 1.3;
  EXPECT_NEAR(largest_string_current(400, 4, 0.3), 400 * best / (best + 3 * other), 1e-12);
  EXPECT_DOUBLE_EQ(largest_string_current(400, 4, 0), 100);
  EXPECT_DOUBLE_EQ(largest_string_current(400, 1, 0.3), 400);
  EXPECT_THROW(largest_string_current(1, 0, 0), std::invalid_argument);
  EXPECT_THROW(largest_string_current(1, 2, 1), std::invalid_argument);
}

// 20 welds a minute of 300 A^2 s in the whole bank, 10 strings.
TEST(Capacitor, ripple_power_and_rise_at_a_rate_of_welds) {
  CapacitorBank bank;
  bank.part_capacitance = 1;
  bank.part_esr = 0.02;
  bank.esr_factor = 1.5;
  bank.parallel = 10;
  bank.thermal_resistance = 12;
  const PartLoad load = part_load(bank, 300, 20.0 / 60);
  EXPECT_NEAR(load.ripple_current, 1, 1e-12);
  EXPECT_NEAR(load.power, 0.03, 1e-12);
  EXPECT_NEAR(load.rise, 0.36, 1e-12);
}

TEST(TurnOff, avalanche_takes_what_the_coil_holds_and_what_the_source_adds) {
  Switch part;
  part.parallel = 6;
  part.rated_voltage = 40;
  part.avalanche_energy = 0.5;
  const double L = 0.8e-6, I = 1200, v = 12;
  const TurnOff out = turn_off(part, L, I, v, 5e-3);
  EXPECT_NEAR(out.held_energy, 0.576, 1e-12);
  EXPECT_NEAR(out.part_held_energy, 0.096, 1e-12);
  EXPECT_TRUE(out.breaks_down);
  EXPECT_EQ(out.peak_voltage, 40);
  // The current falls straight from I to 0 in L I/(V_br - v) at the constant voltage V_br.
  EXPECT_NEAR(out.avalanche_energy, 40 * 0.5 * I * L * I / (40 - v), 1e-12);
  EXPECT_NEAR(*out.worst_avalanche_use, out.avalanche_energy / 0.5, 1e-12);
  EXPECT_NEAR(*out.part_avalanche_use, out.avalanche_energy / 3, 1e-12);
}

TEST(TurnOff, slow_edges_stay_below_breakdown) {
  Switch part;
  part.rated_voltage = 40;
  part.turn_off_time = 100e-6;
  const TurnOff out = turn_off(part, 1e-6, 1000, 12, 5e-3);
  EXPECT_DOUBLE_EQ(out.peak_voltage, 12 + 10);
  EXPECT_FALSE(out.breaks_down);
  EXPECT_EQ(out.avalanche_energy, 0);
}

TEST(TurnOff, clamp_and_diode_keep_the_parts_out_of_avalanche) {
  Switch part;
  part.rated_voltage = 40;
  part.protection = Protection::clamp;
  part.clamp_voltage = 30;
  const TurnOff clamped = turn_off(part, 1e-6, 1000, 12, 5e-3);
  EXPECT_EQ(clamped.peak_voltage, 30);
  EXPECT_FALSE(clamped.breaks_down || clamped.clamp_fails);
  EXPECT_NEAR(clamped.clamp_energy, 0.5 * 30 / 18.0, 1e-12);
  part.clamp_voltage = 45;
  EXPECT_TRUE(turn_off(part, 1e-6, 1000, 12, 5e-3).clamp_fails);
  EXPECT_TRUE(turn_off(part, 1e-6, 1000, 12, 5e-3).breaks_down);
  part.clamp_voltage = 10;
  EXPECT_TRUE(turn_off(part, 1e-6, 1000, 12, 5e-3).clamp_fails);
  part.protection = Protection::freewheel;
  part.diode_drop = 0.8;
  const TurnOff diode = turn_off(part, 1e-6, 1000, 12, 5e-3);
  EXPECT_DOUBLE_EQ(diode.peak_voltage, 12.8);
  ASSERT_TRUE(diode.freewheel);
  EXPECT_LT(diode.freewheel->diode_energy, diode.held_energy);
}

TEST(TurnOff, nothing_known_nothing_claimed) {
  const TurnOff out = turn_off(Switch{}, 1e-6, 1000, 12, 0);
  EXPECT_FALSE(out.bounded);
  EXPECT_FALSE(out.part_avalanche_use);
  const TurnOff no_coil = turn_off(Switch{}, 0, 1000, 12, 0);
  EXPECT_TRUE(no_coil.bounded);
  EXPECT_EQ(no_coil.peak_voltage, 12);
  EXPECT_THROW(turn_off(Switch{}, -1, 1, 1, 0), std::invalid_argument);
}

// IEC 60949, adiabatic: 1 s short circuit of PVC-insulated copper from 70 to 160 C carries
// 115 A/mm^2, of XLPE-insulated copper from 90 to 250 C 143 A/mm^2, of aluminium from 70 to 160 C
// 76 A/mm^2 (factors k of IEC 60364-5-54 table A.54.4, from memory).
TEST(LeadHeating, agrees_with_the_published_short_circuit_factors) {
  EXPECT_NEAR(pulse_temperature_rise("copper", 1e-6, 115.0 * 115.0, 343.15), 90, 1.5);
  EXPECT_NEAR(pulse_temperature_rise("copper", 1e-6, 143.0 * 143.0, 363.15), 160, 1.5);
  EXPECT_NEAR(pulse_temperature_rise("aluminium", 1e-6, 76.0 * 76.0, 343.15), 90, 1.5);
  EXPECT_THROW(pulse_temperature_rise("brass", 1e-6, 1, 293), std::invalid_argument);
  EXPECT_THROW(pulse_temperature_rise("copper", 0, 1, 293), std::invalid_argument);
}

// Small rises: density * heat capacity of copper, 3.45e6 J/K/m^3 (IEC 60949 table 1). K of that
// table is rounded to whole A s^(1/2)/mm^2, 0.22 % of K, 0.44 % of the rise.
TEST(LeadHeating, small_rises_are_heat_over_heat_capacity) {
  const double S = 16e-6, I2t = 4e3;
  const double rho = 17.241e-9;
  EXPECT_NEAR(pulse_temperature_rise("copper", S, I2t, 293.15), rho * I2t / (S * S) / 3.45e6,
              4.4e-3 * rho * I2t / (S * S) / 3.45e6);
}

TEST(LeadHeating, steady_rise_balances_loss_and_surface) {
  const double S = 16e-6, R = 1.21e-3, I2t = 4e3, rate = 0.1;
  const double rise = steady_temperature_rise(R, S, I2t, rate);
  const double perimeter = 2 * std::sqrt(std::numbers::pi * S);
  EXPECT_NEAR(rise * 10 * perimeter, R * I2t * rate, 1e-12);
}

// The equation of IEC 60949 with its values for copper (table 1: 17.241 nohm m, 3.45e6 J/K/m^3,
// beta 234.5); its K is rounded to three digits, 0.44 % of the rise.
TEST(PieceLoad, agrees_with_the_standard_for_copper) {
  Piece bar{"bar", 0.2, 20e-6, 17.241e-9, 2, 0, 3.45e6, 1 / 254.5};
  for (const double I2t : {1e3, 1e6, 4e6}) {
    const double standard = pulse_temperature_rise("copper", 20e-6, I2t, 293.15);
    const PieceLoad load = piece_load(bar, I2t, {});
    EXPECT_NEAR(*load.pulse_rise, standard, 1e-2 * standard);
    EXPECT_FALSE(load.mean_power);
  }
  // Without a slope the rise is the heat over the heat capacity of the metal.
  bar.temperature_coefficient = 0;
  const PieceLoad load = piece_load(bar, 3e3, 0.1);
  const double volume = 2 * 0.2 * 20e-6;
  EXPECT_NEAR(load.pulse_energy, bar.resistance() * 3e3, 1e-12);
  EXPECT_NEAR(*load.pulse_rise, load.pulse_energy / (3.45e6 * volume), 1e-9);
  EXPECT_NEAR(*load.mean_power, 0.1 * load.pulse_energy, 1e-12);
  // What is lost through the surface of a round wire, 10 W/m^2/K, is what comes in.
  const double surface = 2 * 0.2 * 2 * std::sqrt(std::numbers::pi * 20e-6);
  EXPECT_NEAR(*load.steady_rise * 10 * surface, *load.mean_power, 1e-12);
  bar.heat_capacity = 0;
  EXPECT_FALSE(piece_load(bar, 3e3, 0.1).pulse_rise);
  bar.cross_section = 0;
  EXPECT_THROW(piece_load(bar, 3e3, 0.1), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::circuit
