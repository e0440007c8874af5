// What came out of one run, as plain values in SI units. Everything refers to one spot unless it
// says "loop": the loop sees arrangement.spots of them.
#pragma once

#include <cmath>
#include <cstdint>
#include <numeric>
#include <string>
#include <vector>

#include "mesh/axisymmetric_grid.h"

namespace tabmelt {

// One moment of the fields; arrays have grid.cells() entries.
struct Frame {
  double time = 0;                     // [s]
  std::vector<float> temperature;      // [K]
  std::vector<float> liquid_fraction;  // [1]
  std::vector<float> potential;        // [V] of one spot, rim at 0
  std::vector<float> current_density;  // [A/m^2] (J_r, J_z, 0) per cell: 3 * cells
};

// What of the stack a region of the grid is.
enum class Role : std::uint8_t { empty, electrode, strip, can, layer };

inline const char* word_of(Role role) {
  constexpr const char* words[] = {"empty", "electrode", "strip", "can", "layer"};
  return words[static_cast<std::size_t>(role)];
}

struct Part {
  std::string name;
  Role role = Role::empty;
  bool operator==(const Part&) const = default;
};
inline bool is_sheet(const Part& part) {
  return part.role == Role::strip || part.role == Role::can;
}

// One step of one touching surface of a spot.
struct ContactRecord {
  double resistance = 0;  // [ohm]
  double voltage = 0;     // [V] largest local
  double true_area = 0;   // [m^2] metal touching metal
  double radius = 0;      // [m] of the face that touches
};

struct SpotRecord {
  double force = 0;                     // [N] of its electrode, after blow-off
  double resistance = 0;                // [ohm] the whole spot; 0 while no current flows
  double energy_expelled = 0;           // [J] carried off as sparks so far
  std::vector<ContactRecord> contacts;  // the tip's, then the joints from the top
};

struct JointRecord {
  double temperature = 0;      // [K] hottest point where both sides are at least this hot
  double nugget_diameter = 0;  // [m] of equal area, molten on both sides now
};

struct SheetRecord {
  double temperature = 0;  // [K] hottest
  double penetration = 0;  // [m] melt depth from its joints
};

// One row per accepted time step.
struct StepRecord {
  double time = 0;                        // [s]
  double step = 0;                        // [s]
  double current = 0;                     // [A]
  double source_voltage = 0;              // [V] behind the internal resistance
  double load_voltage = 0;                // [V] over all spots of the loop
  double load_resistance = 0;             // [ohm] all spots; 0 while no current flows
  double base_share = 0;                  // [1] part of the current that reaches the lowest sheet
  std::vector<SpotRecord> spots;          // [0] the judged one; another where tips land apart
  double peak_temperature = 0;            // [K] hottest cell
  double tip_temperature = 0;             // [K] hottest point of the electrode face
  double top_temperature = 0;             // [K] hottest point of the top sheet's upper surface
  double inner_wall_temperature = 0;      // [K] hottest point of the lowest sheet's lower surface
  std::vector<JointRecord> joints;        // from the top
  std::vector<SheetRecord> sheets;        // from the top
  std::vector<double> layer_temperature;  // [K] hottest point of each inner layer
  std::vector<double> probes;             // [K]
  double energy_in = 0;                   // [J] delivered to one spot so far
  double energy_stored = 0;               // [J] in the metal of one spot, incl. latent
  double energy_out = 0;                  // [J] conducted out of the ends
  double energy_residual = 0;  // [J] in - stored - out - expelled: the error of the books
  int newton_iterations = 0;
  int coupling_iterations = 0;
  int linear_iterations = 0;

  const SpotRecord& spot() const { return spots.front(); }
};

// Joules, whole loop (all spots).
struct Ledger {
  double stored_before = 0;  // in the bank; 0 for a battery or a prescribed current
  double from_source = 0;    // given up by the store or the prescribed source
  double source_resistance = 0;
  double leads = 0;
  double joints = 0;
  double power_switch = 0;
  double switch_off = 0;         // L i^2/2 dumped when the switch opens
  double tip_lift = 0;           // L i^2/2 dumped in the gap when a tip leaves the strip
  std::vector<double> contacts;  // heat reaching the metal; the tip's, then the joints
  double electrodes = 0;
  std::vector<double> sheets;  // from the top
  double expelled = 0;
  double left_in_inductance = 0;
  double left_in_source = 0;
  double residual = 0;  // from_source - all sinks

  double in_contacts() const { return std::accumulate(contacts.begin(), contacts.end(), 0.0); }
  double in_sheets() const { return std::accumulate(sheets.begin(), sheets.end(), 0.0); }
  // Heat that reached the spots plus what they expelled.
  double at_spots() const { return in_contacts() + electrodes + in_sheets() + expelled; }
};

// Extremes over the whole run.
struct Extreme {
  double value = 0;
  double time = 0;  // [s]
  double r = 0;     // [m]
  double z = 0;     // [m]
};

struct LayerRecord {
  std::string name;
  Extreme peak;      // [K]
  double limit = 0;  // [K]; 0: none
  std::string limit_reason;
  double time_above_limit = 0;     // [s] at the hottest place
  double damage = 0;               // [1] fraction of SEI decomposed there (physics: Arrhenius)
  double melting_temperature = 0;  // [K]; 0: does not melt
  Extreme molten_share;            // [1] of its thickness, where it melted deepest
  double molten_limit = 0;         // [1] of that; 0: none
  double damage_limit = 0;         // [1] of `damage`; 0: none
};

// Whether it has any limit, and whether it stayed within all of them.
inline bool is_judged(const LayerRecord& l) {
  return l.limit > 0 || l.molten_limit > 0 || l.damage_limit > 0;
}
inline bool within_limits(const LayerRecord& l) {
  return (l.limit <= 0 || l.peak.value < l.limit) &&
         (l.molten_limit <= 0 || l.molten_share.value < l.molten_limit) &&
         (l.damage_limit <= 0 || l.damage < l.damage_limit);
}

// Over the whole run: one touching surface, one faying surface, one sheet.
struct ContactSummary {
  Extreme voltage;      // [V] largest local
  Extreme burst_share;  // [1] of its current, through bridges that burst
  double radius = 0;    // [m] largest that ever touched
};

struct JointSummary {
  Extreme peak;               // [K] both sides at least this hot
  Extreme nugget;             // [m] largest diameter of equal area
  double hole_diameter = 0;   // [m] of the unmelted middle at that moment; 0: none
  double fused_diameter = 0;  // [m] of all faying area that was ever molten on both sides
  double soft_diameter = 0;   // [m] of the faying area that was ever above softening
  double time_soft = 0;       // [s] longest time a face was above softening
};

struct SheetSummary {
  Extreme peak;                 // [K]
  Extreme penetration;          // [m] melt depth from its joints
  bool molten_through = false;  // from its lower surface to its upper one
  double through_radius = 0;    // [m] outermost radius molten through
};

// How a tip landed with the source connected.
struct TipLanding {
  double ahead = 0;           // [s] it first touched before the loop could close
  double force_at_start = 0;  // [N] when the current began
  double force_at_peak = 0;   // [N] at peak current, after blow-off
  int bounces = 0;            // times it left the strip again
  double energy = 0;          // [J] delivered to its spot
  double expelled = 0;        // [J] of it, as sparks
  double hottest = 0;         // [K] hottest cell of its spot
};

enum class Ending { finished, stopped_by_observer, failed };

// A figure of a run is promised to this part of itself; of a temperature: of its rise. [1]
inline constexpr double promised_error = 0.01;

// A figure the weld is judged by, and how much of it grid and time steps may have added
// (study/own_error.h).
struct FigureError {
  std::string name;
  std::string unit;   // "K", "m", "A"
  double value = 0;   // SI
  double origin = 0;  // SI; ambient for temperatures
  double error = 0;   // SI

  double relative() const { return error / std::abs(value - origin); }  // [1]
};

struct Result {
  Ending ending = Ending::finished;
  std::string ending_reason;
  mesh::AxisymmetricGrid grid;
  std::vector<Part> parts;  // index: region number; [0] is empty
  std::vector<std::string> probe_names;
  std::vector<StepRecord> history;
  Ledger ledger;
  // Unswitched closing only. [0] is the judged tip, to which all else here refers; a second entry
  // where the other lands at another time.
  std::vector<TipLanding> landings;
  int interruptions = 0;  // times a tip that left the strip opened the loop

  Frame last;
  std::vector<float> peak_temperature;      // [K] per cell, over the run
  std::vector<float> peak_liquid_fraction;  // [1] per cell, over the run

  Extreme peak_current;                  // [A]
  Extreme peak_temperature_any;          // [K]
  Extreme peak_tip;                      // [K] electrode face
  Extreme peak_top;                      // [K] upper surface of the top sheet
  Extreme peak_inner_wall;               // [K] lower surface of the lowest sheet
  std::vector<ContactSummary> contacts;  // the tip's, then the joints from the top
  std::vector<JointSummary> joints;      // from the top
  std::vector<SheetSummary> sheets;      // from the top
  double most_reverse_voltage = 0;       // [V] deepest negative bank voltage, as a positive number
  double stuck_area = 0;        // [m^2] where top sheet or tip face melted while they touched
  double through_area = 0;      // [m^2] under the tip, of the top sheet ever molten through
  Extreme through_band;         // [m] widest ring molten through beside the tip at one moment
  Extreme wall_sunk;            // [1] how far the tip pushed the hot wall in, over its thickness
  double vaporised_mass = 0;    // [kg] boiled at the worst moment
  double base_share_start = 0;  // [1] at the first step with current
  double base_share_mean = 0;   // [1] weighted with delivered energy
  std::vector<LayerRecord> inner_wall_and_layers;  // [0] is the inner wall
  std::string beyond_model;             // where the model stopped to hold; empty: nowhere
  std::vector<std::string> notes;       // e.g. a property curve left its range
  double worst_energy_residual = 0;     // [1] largest |residual| / energy of the run
  std::vector<FigureError> own_errors;  // empty: not estimated
  int rejected_steps = 0;
  int unsettled_steps = 0;  // whose contacts and current field differ by more than the tolerance
  double cpu_seconds = 0;
};

}  // namespace tabmelt
