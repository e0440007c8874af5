// What leads, switch, charger and cell end bear, from one run.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/circuit/capacitor.h"
#include "solver/circuit/charging.h"
#include "solver/circuit/lead_heating.h"
#include "solver/circuit/source_report.h"
#include "solver/circuit/turn_off.h"
#include "solver/problem/problem.h"
#include "solver/result/result.h"

namespace tabmelt {

// A bar, frame or rod; a joint.
struct LoadedPiece {
  std::string name;
  double resistance = 0;  // [ohm] cold, all alike together
  circuit::PieceLoad load;
};
struct LoadedJoint {
  std::string name;
  double resistance = 0;             // [ohm]
  double pulse_energy = 0;           // [J]  R int i^2 dt
  std::optional<double> mean_power;  // [W] at the rate of welds
};

struct BenchFigures {
  // int i^2 dt of the run [A^2 s]: energy of leads or joints over their resistance; without any,
  // straight lines between the steps.
  double square_current_time = 0;
  circuit::SourceReport source;
  std::optional<double> lead_pulse_rise;   // [K] in one pulse
  std::optional<double> lead_steady_rise;  // [K] at the rate of welds
  std::vector<LoadedPiece> pieces;
  std::vector<LoadedJoint> joints;
  // Heat in the conducting switch, one part, shared evenly.
  double switch_part_energy = 0;            // [J] in one pulse
  std::optional<double> switch_part_power;  // [W] at the rate of welds
  // Where the switch opened with most current.
  std::optional<double> opening_current;  // [A]
  double opening_time = 0;                // [s]
  std::optional<circuit::TurnOff> turn_off;
  std::optional<circuit::Charge> charge;       // after this weld
  std::optional<double> welds_per_minute;      // charging and handling
  std::optional<circuit::PartLoad> part_load;  // one capacitor at the rate of welds
  // Several welds on this end.
  double weld_heat = 0;                    // [J] left in the parts by all spots of one weld
  std::optional<double> rise_before_last;  // [K]
  std::optional<double> allowed_rise;      // [K] until a layer reaches its limit
  std::optional<double> shortest_pause;    // [s]; nothing: none suffices
};

BenchFigures bench_figures(const Problem&, const Result&);

}  // namespace tabmelt
