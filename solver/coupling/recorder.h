// Turns accepted steps into the Result: history, extremes, cell side, ledger, energy books, frames.
#pragma once

#include <array>
#include <vector>

#include "solver/coupling/electrical_moment.h"
#include "solver/coupling/frame.h"
#include "solver/coupling/inside_watch.h"
#include "solver/coupling/joint.h"
#include "solver/coupling/pulse_step.h"
#include "solver/coupling/spot_books.h"
#include "solver/coupling/under_tip.h"
#include "solver/result/observer.h"

namespace tabmelt {

class Recorder {
 public:
  Recorder(const Problem&, const WeldModel&, const circuit::Loop&, const PulseStep&, Observer*);

  void begin(const WeldState&);
  // False if the observer wants to stop.
  bool accept(const StepAttempt&, double progress);
  // The energy [J] of the inductance as the loop opened: at the switch, or under a tip that left
  // the strip.
  void switch_opened(double dumped_energy);
  void tip_lifted(double dumped_energy);
  // Once for a moment: the times of frames rise strictly.
  void frame(const WeldState&, bool current_flows);
  // True if current, joint or inner wall has just turned from rising to falling: a moment worth a
  // frame of its own.
  bool just_peaked();
  // True when the inner wall and every layer that warmed at all are past their peaks.
  bool inside_past_its_peak() const;
  // Where the model has stopped to hold, in words; empty: nowhere so far.
  const std::string& beyond_the_model() const { return result_.beyond_model; }
  Result finish(const WeldState&, Ending, std::string reason, int rejected);

 private:
  struct Hottest {
    double T = 0;
    std::size_t cell = 0;
  };

  // The part of accept() that belongs to each of these.
  void note_circuit(const StepAttempt&, StepRecord&);
  void note_contacts(const StepAttempt&, StepRecord&);
  void note_tip_face(const Surfaces&, double time, StepRecord&);
  void note_joint(std::size_t joint, const StepAttempt&, const Surfaces&, StepRecord&);
  void note_under_tip(const SpotState&, const SpotStep&, const Surfaces&, double time, double dt);
  void note_inside(const SpotState&, const Surfaces&, double time, double dt, StepRecord&);
  void keep_books(const StepAttempt&, StepRecord&);
  void note(Extreme&, double value, double time, double r, double z) const;
  // Hottest cells, the maps over the run, vapour.
  void note_cells(const SpotState&, double time, StepRecord&);
  // The region's hottest cell has this temperature.
  void check_range(std::size_t region, double T);
  // Where boiling has carried away [J per region] as much as it takes to boil the whole top sheet
  // under the tip's end, the parts are no longer where they are computed.
  void check_boiling(const std::vector<double>& boiled_off);
  void note_landings(const StepAttempt&);
  void close_joints();
  void close_landings(double end_time);

  const Problem* problem_;
  const WeldModel* model_;
  const circuit::Loop* loop_;
  const PulseStep* step_;
  Observer* observer_;
  Result result_;
  InsideWatch inside_;
  struct JointEver {                   // per face
    std::vector<double> soft_time;     // [s]
    std::vector<double> soft, molten;  // [K] largest excess
  };
  std::vector<JointEver> joints_;
  std::vector<double> stuck_ever_, through_ever_;  // [K] likewise, under the tip
  std::vector<SpotBooks> books_;                   // per computed spot
  std::vector<char> left_range_;                   // per region
  std::vector<Hottest> hottest_;                   // per region, of the step at hand
  ElectricalMoments electrical_;
  bool current_began_ = false;
  double share_energy_ = 0;
  double boiled_off_ = 0;  // [J] carried away by boiling
  double sunk_ = 0;        // [1] of the wall's thickness, what the tip pushed inwards
  // Current, joint and inner wall at the last step, and whether they were rising.
  std::array<double, 3> last_ = {};
  std::array<bool, 3> rising_ = {};
};

}  // namespace tabmelt
