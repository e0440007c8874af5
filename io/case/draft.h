// A case while it is being read: the problem so far, and what its defaults are worked out from.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "io/case/cell_presets.h"
#include "solver/problem/problem.h"

namespace tabmelt {

enum class SourceKind { capacitor_bank, battery, exponential_current, measured_current };

struct Draft {
  Problem problem;
  std::set<std::string> given;  // keys that stand in the file
  std::string title;

  std::string cell_size;
  std::string cell_end = "none";
  double strip_width = 0;  // [m]
  bool across = false;     // the electrode pair lies across the strip

  SourceKind source_kind = SourceKind::capacitor_bank;
  circuit::CapacitorBank bank;
  circuit::Battery battery;
  circuit::ExponentialCurrent exponential;
  circuit::TableCurrent trace;
  int joint_count = 0;
  double joint_resistance = 0;  // [ohm] each

  double inner_wall_limit = 0;  // [K]
  bool has_inner_wall_limit = false;
  std::string inner_wall_reason;

  bool is_given(const std::string& key) const { return given.contains(key); }
  bool has_cell() const { return cell_end != "none"; }
  std::optional<CellPreset> preset() const { return cell_preset(cell_size, cell_end); }
  bool side_by_side() const { return problem.arrangement.spots == 2; }
  bool prescribed() const {
    return source_kind == SourceKind::exponential_current ||
           source_kind == SourceKind::measured_current;
  }
  // Without a cell the case is a check of the computation: nothing is added that it does not name.
  bool plain_circuit() const { return prescribed() || !has_cell(); }
};

// Radius [m] of the disc in which the can's current spreads, before it is widened to rim_radius.
double can_disc_radius(const Draft& draft);

// Moves what was gathered beside the problem into it.
void finish(Draft& draft);

}  // namespace tabmelt
