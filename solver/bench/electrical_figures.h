// What the person at the bench reads off the pulse: figures of the loop that follow from the
// history and the source.
#pragma once

#include <optional>
#include <vector>

#include "solver/problem/problem.h"
#include "solver/result/result.h"

namespace tabmelt {

struct ElectricalFigures {
  // Resistance of all spots: at the first step with current, and the least while it flows. [ohm]
  // Absent if no current flowed.
  std::optional<double> load_resistance_start;
  std::optional<double> load_resistance_least;
  // Contacts of one spot at the first step with current. [ohm]
  std::vector<double> contacts_start;  // the tip's, then the joints from the top
  // Capacitor bank only.
  std::optional<double> current_per_capacitor;  // [A] peak
  std::optional<double> voltage_per_capacitor;  // [V] charged, shared evenly
  // Source ratings, where the case gives them. [A], [V]
  std::optional<double> rated_current;  // of one capacitor, or of the battery
  std::optional<double> rated_voltage;  // of one capacitor
  bool current_rating_exceeded = false;
};

ElectricalFigures electrical_figures(const Problem&, const Result&);

}  // namespace tabmelt
