// A case while it is being read: the problem so far, and what its defaults are worked out from.
#pragma once

#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "io/case/cell_presets.h"
#include "solver/problem/problem.h"

namespace tabmelt {

enum class SourceKind {
  capacitor_bank,
  supercapacitor,
  battery,
  bench_supply,
  exponential_current,
  measured_current
};

// One [[conductor]].
struct Conductor {
  circuit::Piece piece;
  MaterialPtr material;
  double frame_width = 0;   // [m] 0: no frame
  double frame_height = 0;  // [m]
};

// One [[strip]], and what its rim is worked out from.
struct StripDraft {
  Sheet sheet{.name = "strip"};
  double width = 0;        // [m]
  bool across = false;     // the electrode pair lies across the strip
  double slit_length = 0;  // [m] 0: none, or one that parts the strip
};

struct Draft {
  Problem problem;
  std::set<std::string> given;  // keys that stand in the file
  std::string title;

  std::string cell_size;
  std::string cell_end = "none";
  std::string cell_inside;  // "wet", "dry"; empty: as the end usually is
  bool flat_tip = false;
  double face_crown = 0;                             // [m] 0: not given
  double tip_resistance = 0, faying_resistance = 0;  // [ohm] cold, measured; 0: not given
  std::vector<StripDraft> strips;                    // from the top, those read so far
  std::size_t strip_count = 1;                       // in the file
  bool can_given = false;                            // it has a [can]
  Sheet can{.name = "can"};
  Contact tip, faying;
  bool over_tab = false;  // the spot lies over the tab inside

  SourceKind source_kind = SourceKind::capacitor_bank;
  circuit::CapacitorBank bank;
  double dissipation_factor = 0;                     // [1]
  double dissipation_frequency = 0;                  // [Hz]
  std::vector<std::pair<double, double>> esr_table;  // temperature [K], factor of the ESR
  double bank_temperature = 293.15;                  // [K]
  circuit::Battery battery;
  circuit::BenchSupply supply;
  circuit::ExponentialCurrent exponential;
  circuit::TableCurrent trace;
  double lead_gauge = 0;  // AWG
  int joint_count = 0;
  double joint_resistance = 0;  // [ohm] each
  double rod_length = 0;        // [m] of each electrode, behind what is computed
  std::vector<Conductor> conductors;

  double switch_part_resistance = 0;  // [ohm] one part, cold
  double switch_resistance_factor = 1;
  int bounces = 0;                                    // of a contactor
  double bounce_time = 0;                             // [s] from one closing to the next
  double first_pulse = 0, pause = 0, main_pulse = 0;  // [s]
  circuit::Charger charger;

  bool is_given(const std::string& key) const { return given.contains(key); }
  bool has_cell() const { return cell_end != "none"; }
  // Strips lie on each other and on nothing else if there is more than one and no can.
  bool has_can() const { return has_cell() || can_given || strip_count < 2; }
  std::size_t joints() const { return strip_count - 1 + (has_can() ? 1 : 0); }
  // The one at hand while strips are read.
  StripDraft& strip() { return strips.back(); }
  const StripDraft& strip() const { return strips.back(); }
  const Sheet& top() const { return strips.front().sheet; }
  std::optional<CellPreset> preset() const {
    return cell_preset(cell_size, cell_end, cell_inside, over_tab);
  }
  bool side_by_side() const { return problem.arrangement.spots == 2; }
  bool bank_kind() const {
    return source_kind == SourceKind::capacitor_bank || source_kind == SourceKind::supercapacitor;
  }
  bool has_charger() const {
    return bank_kind() && (is_given("charger.current") || is_given("charger.resistance"));
  }
  bool prescribed() const {
    return source_kind == SourceKind::exponential_current ||
           source_kind == SourceKind::measured_current;
  }
  // Without a cell the case is a check of the computation: nothing is added that it does not name.
  bool plain_circuit() const { return prescribed() || !has_cell(); }
};

// Radius [m] of the disc in which the can's current spreads, before it is widened to rim_radius.
double can_disc_radius(const Draft& draft);

// Whether the sides of a frame lie further apart than its wire is thick.
bool frame_is_open(const Conductor& conductor);

// What is wrong with [source], [leads], [[conductor]] and [switch] that the finished circuit no
// longer shows.
std::vector<std::string> bench_complaints(const Draft& draft);

// Resistance times true area [ohm m^2] that a contact measured cold under the holding force has
// beyond clean metal's: R F/H - s (rho_1 + rho_2)/(2 1.25 m). Negative: less than clean metal.
double measured_film(const Draft&, const Contact&, const MaterialPtr& a, const MaterialPtr& b,
                     double resistance);

// Moves what was gathered beside the problem into it.
void finish(Draft& draft);

}  // namespace tabmelt
