// Charging a capacitor bank from a supply that limits first its current, then its voltage, through
// a series resistor (the bank's own resistance included).
//
//   constant current   i = I0            until v + I0 R_s = V_set, that is v = V_set - I0 R_s
//   constant voltage   i = i_s exp(-t/(R_s C)),  v = V_set - R_s i
//
//   v  voltage of the bank [V]   C  its capacitance [F]   R_s  series resistance [ohm]
//   i_s  current at the change-over: I0, or (V_set - v)/R_s if charging starts above it
//
//   time          C (V_set - I0 R_s - v0)/I0  +  R_s C ln(i_s/i_end)
//   lost in R_s   I0^2 R_s t_constant_current  +  R_s C R_s (i_s^2 - i_end^2)/2
//   int i^2 dt    I0^2 t_constant_current  +  R_s C (i_s^2 - i_end^2)/2
//   from supply   (v + R_s i) i, largest at the end of the constant current: (v + R_s I0) I0
//
// Without a current limit all of it is constant voltage and the loss is C (V_set - v0)^2/2 once
// fully charged, whatever the resistor. Textbook circuit theory, e.g. Nilsson and Riedel,
// Electric Circuits, "Response of first-order RL and RC circuits".
#pragma once

#include <limits>

namespace tabmelt::circuit {

struct Charger {
  double current_limit = std::numeric_limits<double>::infinity();  // [A] I0
  double set_voltage = 0;                                          // [V] V_set
  double series_resistance = 0;                                    // [ohm] R_s
};

struct Charge {
  double time = 0;                   // [s]
  double constant_current_time = 0;  // [s] part of it at the current limit
  double end_voltage = 0;            // [V]
  double end_current = 0;            // [A] just before the supply is taken off
  double stored = 0;                 // [J] gained by the bank
  double lost = 0;                   // [J] turned to heat in the resistor
  double peak_power = 0;             // [W] in the resistor
  double square_current_time = 0;    // int i^2 dt [A^2 s]
  double peak_supply_power = 0;      // [W] largest that leaves the supply
  double mean_power() const { return time > 0 ? lost / time : 0; }  // [W] in the resistor
  double efficiency() const { return stored > 0 ? stored / (stored + lost) : 0; }  // [1]
};

// Start at `start_voltage`; a bank already there takes no time. Throw
// std::invalid_argument when the charger can never reach the goal (a voltage at or above the set
// voltage with a resistor), or for values that make no sense (no current limit and no resistor,
// nothing positive where it must be).
//
// Until the voltage reaches `end_voltage`, below V_set (equal to it if there is no resistor).
Charge charge_to_voltage(const Charger&, double capacitance, double start_voltage,
                         double end_voltage);
// Until 99 % of the set voltage: the usual meaning of "charged" (common practice, no source).
Charge full_charge(const Charger&, double capacitance, double start_voltage);

}  // namespace tabmelt::circuit
