// The march through time of one run: which step comes next, whether it stands, when it is over.
//
//   while not over:
//     pass events    switching and landings that have come are carried out
//     next step      as long as the error control, the touch-down and the next event let it be
//     attempt        circuit and spots together (coupling/pulse_step.h)
//     take, or shorten and try again
//
// Events at which something jumps end a step. Switching, kinks of a prescribed current, landings
// and lifting off are known beforehand. The moment at which a protection opens or a thyristor goes
// out hangs on the load: a step within which that happens is taken again until it ends there.
// Bursting, blow-off and melting through set in without a jump (contact/contact.h: what a bridge
// expels begins at nothing) and are left to the error control.
#pragma once

#include <string>
#include <vector>

#include "solver/coupling/recorder.h"
#include "solver/coupling/step_control.h"

namespace tabmelt {

// Moments of the frames: evenly over the pulse, then at growing distances.
class FrameClock {
 public:
  FrameClock(double pulse, int frames);
  bool due(double time);

 private:
  double pulse_, spacing_, next_ = 0;
};

class March {
 public:
  // The problem has no complaints and outlives the march, as does the observer.
  March(const Problem&, WeldModel, Observer*);
  Result run();

 private:
  double round_off() const;  // [s] that counts as no time at all now
  double pulse_length() const;
  bool at_the_end();
  void pass_events();
  void pass_event(double moment);
  void switch_loop(bool conducts, bool switch_conducts);
  // Without history the next step starts small.
  void start_afresh();
  double next_step() const;
  // The current ended well before the step did.
  bool overruns(double step) const;
  // Whether the attempt of this length stands; if not, the next one is shorter or the run fails.
  bool stands(double step);
  void shorten(double step, bool by_a_lot);
  void choose_growth(double step);
  void take();
  bool pulse_is_over(bool current_starts);
  void end(Ending, std::string reason);

  const Problem* problem_;
  WeldModel model_;
  circuit::Loop loop_;
  PulseStep pulse_;
  Recorder recorder_;
  StepControl control_;
  std::vector<double> landings_, events_;  // [s] rising
  std::size_t next_event_ = 0;
  std::vector<bool> touching_;  // per tip
  double end_time_, pulse_end_, pulse_length_;
  FrameClock frames_;

  WeldState state_;
  StepAttempt attempt_;
  double dt_;             // [s] wanted for the next step
  double strongest_ = 0;  // [A] so far
  int steps_ = 0, rejected_ = 0;
  bool over_ = false;
  Ending ending_ = Ending::finished;
  std::string reason_;
};

}  // namespace tabmelt
