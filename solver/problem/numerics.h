// Settings a user may change, each with its default and the reason for it.
#pragma once

#include <optional>

namespace tabmelt {

struct Numerics {
  // Cells per length, relative to the default rule; 2 halves every cell.
  double resolution = 1.0;
  // Local error allowed per step: root-mean-square change of the temperature rise that the step's
  // second-order prediction missed, relative to the rise.
  double step_tolerance = 5e-3;
  double first_step = 1e-6;    // [s] after each switching event
  double longest_step = 0.05;  // [s]
  // End of the run [s]; unset: until the pulse is over and the inside has passed its peak.
  std::optional<double> end_time;
  double longest_run = 5.0;  // [s] gives up waiting for the peak
  // Potential solve: relative residual at which the linear iteration stops, between rounds already
  // at coupling_tolerance if that is larger.
  double linear_tolerance = 1e-5;
  // Enthalpy iteration: stops when no temperature is further than this from its enthalpy [K]. Heat
  // is conserved whatever the value; a tenth of a kelvin is far below the error of a step.
  double newton_tolerance = 0.1;
  int newton_limit = 30;
  // Contact and potential rounds: stop when the load resistance moves by less than this [1], or by
  // a fiftieth of it while a contact is still growing (coupling/rounds.h).
  double coupling_tolerance = 1e-3;
  int coupling_limit = 120;
  // Pictures kept in the result file: about this many over the pulse, as many after it.
  int frames = 40;
};

}  // namespace tabmelt
