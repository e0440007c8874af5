// The figures of bench_figures.h as single numbers for the result file and the summary. SI units.
//
//   square_current_time
//
//   source_droop, _energy_left, _peak_part_current, _worst_part_current, _part_voltage,
//   _worst_part_voltage, _reverse_part_voltage, _least_energy, _most_energy, _surge
//
//   capacitor_ripple_current, _power, _rise
//
//   lead_pulse_rise, _steady_rise
//
//   conductor_<n>_resistance, _pulse_energy, _pulse_rise, _mean_power, _steady_rise
//
//   joint_<n>_pulse_energy, _mean_power
//
//   switch_part_energy, _part_power, _opening_current, _opening_time, _held_energy,
//   _peak_voltage, _avalanche_energy, _part_avalanche_use, _worst_avalanche_use, _clamp_energy,
//   _diode_energy, _freewheel_time
//
//   charge_time, _constant_current_time, _stored, _lost, _peak_resistor_power,
//   _mean_resistor_power, _peak_supply_power, _efficiency, and welds_per_minute
//
//   sequence_weld_heat, _rise_before_last, _allowed_rise, _shortest_pause
//
// A number that does not apply is left out.
#pragma once

#include <vector>

#include "io/result/bench_figures.h"
#include "io/result/result_scalars.h"

namespace tabmelt {

std::vector<Scalar> bench_scalars(const Problem&, const BenchFigures&);

}  // namespace tabmelt
