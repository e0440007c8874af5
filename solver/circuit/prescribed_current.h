// Integrals of a current given as a formula or a table; exact.
#pragma once

#include "solver/circuit/circuit.h"

namespace tabmelt::circuit {

struct CurrentIntegrals {
  double charge = 0;           // int i dt [A s]
  double absolute_charge = 0;  // int |i| dt [A s]
  double square_current = 0;   // int i^2 dt [A^2 s]
};

// I = peak exp(-t/time_constant), t counted from the first closing; 0 before it.
double current_at(const ExponentialCurrent&, double since_closing);
CurrentIntegrals integrals(const ExponentialCurrent&, double since_closing, double dt);

// Straight lines between points, zero outside. Where the current jumps (at the first or the last
// point), current_at gives the value just after and current_before the one just before.
double current_at(const TableCurrent&, double time);
double current_before(const TableCurrent&, double time);
// From `time` to `time + dt`, over as many points as lie between.
CurrentIntegrals integrals(const TableCurrent&, double time, double dt);

}  // namespace tabmelt::circuit
