// One coupled step of circuit and spots over [t, t + dt].
//
//   1. each spot looks half a step ahead (coupling/spot.h)
//   2. until the resistances settle: the circuit's current with the load of all spots in series
//      -> force of each tip, less the repulsion of that current -> resistance of each spot;
//      then the current field of each spot in full accuracy
//   3. the circuit over the whole step with that load (circuit/loop.h): int i^2 dt
//   4. each spot takes its Joule heat, which rises or falls over the step as the square of the
//      current does
//
// Tips that land together are computed once and count as often as there are spots; where one lands
// later, both spots are computed and stand in series.
//
// Nothing is changed by an attempt; its state becomes the present one if the caller takes it.
#pragma once

#include <optional>
#include <vector>

#include "solver/circuit/loop.h"
#include "solver/coupling/spot.h"
#include "solver/pressing/touch_down.h"

namespace tabmelt {

struct WeldState {
  circuit::LoopState loop;
  double last_step = 0;          // [s] 0: no history (start, switching)
  std::vector<SpotState> spots;  // [0] is the judged one
};

struct StepAttempt {
  bool solved = false;
  bool first = false;   // without history: the current has just been switched, or a tip has landed
  bool settled = true;  // contacts and current field agreed within the coupling tolerance
  double dt = 0;
  WeldState state;
  std::vector<SpotStep> spots;
  double error = 0;                // [1] largest of the spots
  double resistance_change = 0;    // [1] relative, against the last step; largest of the spots
  circuit::StepEnergy energy;      // whole loop
  circuit::StepExtremes extremes;  // whole loop, within the step
  std::optional<double> ended;     // [s] since its start: the current, for good (circuit/loop.h)
  int coupling_iterations = 0, linear_iterations = 0, newton_iterations = 0;
};

class PulseStep {
 public:
  PulseStep(const Problem&, const WeldModel&, const circuit::Loop&);

  WeldState initial_state();
  // Overwrites the attempt, whose fields are used again.
  void attempt(const WeldState&, double dt, StepAttempt&);

  // A tip has left the strip.
  static void lift(WeldState&, std::size_t tip);

  const TouchDown& touch_down() const { return touch_down_; }
  // Spots of the loop that each computed one stands for.
  int alike() const { return alike_; }
  const Spot& spot(std::size_t n) const { return spots_[n]; }

 private:
  double load() const;  // [ohm] of all spots
  // Rounds of circuit, contacts and current field. Returns false if a field does not converge.
  bool settle(const WeldState&, double dt, StepAttempt&);

  const Problem* problem_;
  const circuit::Loop* loop_;
  TouchDown touch_down_;
  int alike_;
  std::vector<Spot> spots_;
};

}  // namespace tabmelt
