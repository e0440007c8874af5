// Ctrl-C (SIGINT), SIGTERM and the end of the terminal (SIGHUP) as a wish to stop: the solver ends
// after its current step and what was computed stays. A second such signal ends the program at
// once.
#pragma once

#include "solver/result/observer.h"

namespace tabmelt::command {

// Catches these signals for the rest of the program.
void listen_for_stop();
bool stop_requested();

class StopWhenAsked : public Observer {
 public:
  bool prepared() override { return !stop_requested(); }
  bool step_done(const StepRecord&, double) override { return !stop_requested(); }
};

}  // namespace tabmelt::command
