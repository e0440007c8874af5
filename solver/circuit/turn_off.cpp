#include "solver/circuit/turn_off.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tabmelt::circuit {

TurnOff turn_off(const Switch& part, double inductance, double current, double source_voltage,
                 double loop_resistance) {
  if (!(inductance >= 0) || !(current >= 0) || part.parallel < 1)
    throw std::invalid_argument(
        "turning off needs no negative inductance or current and at least one part");
  const double v = std::max(source_voltage, 0.0);
  TurnOff out;
  out.held_energy = 0.5 * inductance * current * current;
  out.part_held_energy = out.held_energy / part.parallel;
  const bool nothing_held = out.held_energy == 0;
  const double unprotected = nothing_held ? v
                             : part.turn_off_time > 0
                                 ? v + inductance * current / part.turn_off_time
                                 : INFINITY;
  switch (part.protection) {
    case Protection::freewheel:
      out.peak_voltage = v + part.diode_drop;
      out.freewheel = freewheel(inductance, current, loop_resistance, part.diode_drop);
      break;
    case Protection::clamp:
      out.peak_voltage = std::min(unprotected, part.clamp_voltage);
      out.clamp_fails = part.clamp_voltage <= v ||
                        (part.rated_voltage && part.clamp_voltage >= *part.rated_voltage);
      if (unprotected > part.clamp_voltage && part.clamp_voltage > v)
        out.clamp_energy = out.held_energy * part.clamp_voltage / (part.clamp_voltage - v);
      break;
    case Protection::none:
      out.peak_voltage = unprotected;
      break;
  }
  if (part.rated_voltage && out.peak_voltage > *part.rated_voltage) {
    out.peak_voltage = *part.rated_voltage;
    out.breaks_down = true;
    // A source at or above the breakdown voltage never lets the current fall.
    out.avalanche_energy = *part.rated_voltage > v
                               ? out.held_energy * *part.rated_voltage / (*part.rated_voltage - v)
                               : INFINITY;
    if (part.avalanche_energy) {
      out.worst_avalanche_use = out.avalanche_energy / *part.avalanche_energy;
      out.part_avalanche_use = *out.worst_avalanche_use / part.parallel;
    }
  }
  out.bounded = std::isfinite(out.peak_voltage);
  if (!out.bounded) out.peak_voltage = 0;
  return out;
}

}  // namespace tabmelt::circuit
