// What happens when the switch opens while the loop's inductance still carries current.
//
//   energy held                    E = L I^2/2                       E/n per part, if shared evenly
//   no protection, fall time t_f   V_peak = v + L I/t_f, at most the breakdown voltage V_br;
//                                  without a fall time the voltage always reaches V_br
//   avalanche                      E_av = (L I^2/2) V_br/(V_br - v): the source goes on delivering
//                                  while the current falls. The part that breaks down first may
//                                  take all of it.
//   clamp across the switch        V_peak = V_c,  E_c = (L I^2/2) V_c/(V_c - v)
//   free-wheel diode across leads  V_peak = v + V_d; energy and time: circuit/source_report.h
//
//   v  source voltage at that moment [V]   I  current [A]   n  parts in parallel
// The avalanche energy follows from int V i dt with L di/dt = v - V_br, as in the application notes
// of transistor makers (from memory).
#pragma once

#include <optional>

#include "solver/circuit/circuit.h"
#include "solver/circuit/source_report.h"

namespace tabmelt::circuit {

struct TurnOff {
  double held_energy = 0;                     // [J]
  double part_held_energy = 0;                // [J] shared evenly
  bool bounded = true;                        // false: nothing known limits the voltage
  double peak_voltage = 0;                    // [V] over the switch; 0 if not bounded
  bool breaks_down = false;                   // the parts are driven into avalanche
  double avalanche_energy = 0;                // [J] all parts together; 0 without avalanche
  std::optional<double> part_avalanche_use;   // [1] of the rating, shared evenly
  std::optional<double> worst_avalanche_use;  // [1] one part takes all
  double clamp_energy = 0;                    // [J]
  bool clamp_fails = false;  // it holds more than the parts bear, or less than the source gives
  std::optional<Freewheel> freewheel;
};

// Throws std::invalid_argument for a negative current, inductance or number of parts below one.
// `loop_resistance` [ohm] is what damps the free-wheeling current.
TurnOff turn_off(const Switch&, double inductance, double current, double source_voltage,
                 double loop_resistance);

}  // namespace tabmelt::circuit
