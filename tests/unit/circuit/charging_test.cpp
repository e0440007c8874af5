#include "solver/circuit/charging.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tabmelt::circuit {
namespace {

// 100 F from 1 V by a supply of 5 A and 5.4 V through 40 mohm; closed form evaluated in 30-digit
// arithmetic, e.g. Nilsson and Riedel, Electric Circuits, first-order RC circuits.
TEST(Charging, constant_current_then_constant_voltage) {
  const Charger charger{5, 5.4, 0.04};
  const Charge charge = charge_to_voltage(charger, 100, 1, 5.4 - 0.05 * 0.04);
  EXPECT_NEAR(charge.constant_current_time, 84, 1e-10);
  EXPECT_NEAR(charge.time, 102.420680744, 1e-9);
  EXPECT_NEAR(charge.end_voltage, 5.398, 1e-12);
  EXPECT_NEAR(charge.end_current, 0.05, 1e-12);
  // 84 s at 25 A^2, then (R C/2)(25 - 0.0025) A^2 s.
  EXPECT_NEAR(charge.lost, 0.04 * (84 * 25 + 2 * (25 - 0.0025)), 1e-9);
  EXPECT_NEAR(charge.stored, 50 * (5.398 * 5.398 - 1), 1e-9);
  EXPECT_NEAR(charge.peak_power, 1, 1e-14);
  EXPECT_NEAR(charge.mean_power(), charge.lost / 102.420680744, 1e-9);
  // 15 s after the change-over the bank is at 5.39529645083 V.
  EXPECT_NEAR(charge_to_voltage(charger, 100, 1, 5.39529645083).time, 99, 1e-6);
  EXPECT_NEAR(full_charge(charger, 100, 1).end_voltage, 5.346, 1e-12);
}

// Supply's work = charge times its terminal voltage: an independent sum for the loss.
TEST(Charging, supply_work_is_stored_or_lost) {
  const Charger charger{2.5, 16, 0.8};
  double v = 3, work = 0, lost = 0, t = 0;
  const double c = 0.94, h = 1e-5;
  while (v < 15.5) {
    const double i = std::min(2.5, (16 - v) / 0.8);
    work += i * (v + 0.8 * i) * h;
    lost += 0.8 * i * i * h;
    v += i * h / c;
    t += h;
  }
  const Charge charge = charge_to_voltage(charger, c, 3, 15.5);
  EXPECT_NEAR(charge.time, t, 1e-4 * t);
  EXPECT_NEAR(charge.lost, lost, 1e-4 * lost);
  EXPECT_NEAR(charge.stored + charge.lost, work, 1e-4 * work);
}

// Any resistor wastes C (V_s - V_1)^2/2: 36 J of an empty 2 F bank at 6 V, 4 J from 4 V.
TEST(Charging, fixed_voltage_wastes_half_whatever_the_resistor) {
  for (const double resistance : {0.05, 5.0}) {
    const Charger charger{INFINITY, 6, resistance};
    const double nearly = 6 - 1e-9;
    const Charge from_empty = charge_to_voltage(charger, 2, 0, nearly);
    EXPECT_NEAR(from_empty.lost, 36, 1e-7);
    EXPECT_NEAR(from_empty.efficiency(), 0.5, 1e-9);
    EXPECT_EQ(from_empty.constant_current_time, 0);
    EXPECT_DOUBLE_EQ(from_empty.peak_power, 36 / resistance);
    const Charge from_four = charge_to_voltage(charger, 2, 4, nearly);
    EXPECT_NEAR(from_four.lost, 4, 1e-7);
    EXPECT_NEAR(from_four.efficiency(), 0.833333333333, 1e-9);
  }
  // 99 % takes ln(100) time constants.
  EXPECT_NEAR(full_charge({INFINITY, 6, 0.05}, 2, 0).time, 0.1 * std::log(100), 1e-12);
}

TEST(Charging, without_resistor_the_current_limit_does_it_all) {
  const Charge charge = charge_to_voltage({2, 10, 0}, 0.5, 4, 10);
  EXPECT_DOUBLE_EQ(charge.time, 1.5);
  EXPECT_DOUBLE_EQ(charge.end_voltage, 10);
  EXPECT_EQ(charge.lost, 0);
  EXPECT_EQ(charge.efficiency(), 1);
}

TEST(Charging, ends_within_the_constant_current_part_if_the_goal_lies_there) {
  const Charge charge = charge_to_voltage({5, 5.4, 0.04}, 100, 1, 3);
  EXPECT_DOUBLE_EQ(charge.time, 40);
  EXPECT_DOUBLE_EQ(charge.lost, 40);
  EXPECT_DOUBLE_EQ(charge.end_current, 5);
  // Already there.
  EXPECT_EQ(charge_to_voltage({5, 5.4, 0.04}, 100, 4, 3).time, 0);
  EXPECT_EQ(charge_to_voltage({5, 5.4, 0.04}, 100, 4, 3).end_voltage, 4);
}

TEST(Charging, refuses_what_never_ends) {
  const Charger charger{5, 5.4, 0.04};
  EXPECT_THROW(charge_to_voltage(charger, 100, 1, 5.4), std::invalid_argument);
  EXPECT_THROW(charge_to_voltage(charger, 0, 1, 5), std::invalid_argument);
  EXPECT_THROW(charge_to_voltage({INFINITY, 5, 0}, 1, 1, 4), std::invalid_argument);
  EXPECT_THROW(charge_to_voltage({0, 5, 1}, 1, 1, 4), std::invalid_argument);
  EXPECT_THROW(charge_to_voltage({1, 5, -1}, 1, 1, 4), std::invalid_argument);
}

// Heat in the resistor is R_s int i^2 dt; the supply gives most where the current starts to fall.
TEST(Charging, square_of_the_current_and_supply_power) {
  const Charger charger{2, 20, 3};
  const Charge charge = full_charge(charger, 0.05, 4);
  EXPECT_NEAR(charge.lost, 3 * charge.square_current_time, 1e-12);
  EXPECT_DOUBLE_EQ(charge.peak_supply_power, 2 * 20.0);
  // Ended while the current is still constant.
  const Charge early = charge_to_voltage(charger, 0.05, 4, 10);
  EXPECT_DOUBLE_EQ(early.peak_supply_power, 2 * (10 + 2 * 3.0));
  EXPECT_NEAR(early.square_current_time, 4 * early.time, 1e-12);
  const Charge ideal = full_charge({2, 20, 0}, 0.05, 4);
  EXPECT_EQ(ideal.lost, 0);
  EXPECT_NEAR(ideal.square_current_time, 4 * ideal.time, 1e-12);
}

TEST(Charging, refuses_what_is_no_voltage) {
  for (const double set : {0.0, -5.0, static_cast<double>(INFINITY)})
    EXPECT_THROW(charge_to_voltage({1, set, 0.1}, 1, 0, 1), std::invalid_argument) << set;
  EXPECT_THROW(charge_to_voltage({1, 5, 0.1}, 1, NAN, 4), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::circuit
