// A charged bank behind a resistance and an inductance.
#pragma once

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

inline LoopState closed(const Loop& loop) { return loop.close_switch(loop.initial_state()); }

}  // namespace tabmelt::circuit
