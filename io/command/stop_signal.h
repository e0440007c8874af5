// Ctrl-C (SIGINT) and SIGTERM as a wish to stop: the solver ends after its current step and what
// was computed stays. A second signal ends the program at once.
#pragma once

#include "solver/result/observer.h"

namespace tabmelt {

// Catches both signals for the rest of the program.
void listen_for_stop();
bool stop_requested();

class StopWhenAsked : public Observer {
 public:
  bool step_done(const StepRecord&, double) override { return !stop_requested(); }
};

}  // namespace tabmelt
