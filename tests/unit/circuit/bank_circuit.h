// Sources behind a resistance and an inductance, and their books.
#pragma once

#include <cmath>

#include "solver/circuit/loop.h"

namespace tabmelt::circuit {

inline Circuit bank_circuit(double capacitance, double voltage, double resistance,
                            double inductance) {
  CapacitorBank bank;
  bank.part_capacitance = capacitance;
  bank.charge_voltage = voltage;
  Circuit circuit;
  circuit.source = bank;
  circuit.extra_resistance = resistance;
  circuit.extra_inductance = inductance;
  return circuit;
}

inline Circuit battery_circuit(double voltage, double resistance, double inductance) {
  Circuit circuit;
  circuit.source.emplace<Battery>(Battery{voltage, resistance, {}});
  circuit.extra_inductance = inductance;
  return circuit;
}

inline Circuit behind_a_thyristor(Circuit circuit, double drop) {
  circuit.power_switch.kind = SwitchKind::thyristor;
  circuit.power_switch.forward_drop = drop;
  return circuit;
}

inline LoopState closed(const Loop& loop) { return loop.close_switch(loop.initial_state()); }

// [A] just after the state.
inline double current_at_once(const Loop& loop, const LoopState& state, double load) {
  return loop.advance(state, 1e-30, load).state.current;
}

inline double sinks(const StepEnergy& e) {
  return e.in_source + e.in_leads + e.in_joints + e.in_switch + e.in_load_resistance +
         e.to_inductance;
}

// Sum of all flows, whichever way: what the residual of the books is measured against.
inline double turnover(const StepEnergy& e) {
  return std::abs(e.from_source) + e.in_source + e.in_leads + e.in_joints + e.in_switch +
         e.in_load_resistance + std::abs(e.to_inductance);
}

}  // namespace tabmelt::circuit
