#include "solver/bench/electrical_figures.h"

#include <algorithm>
#include <cmath>
#include <variant>

namespace tabmelt {

ElectricalFigures electrical_figures(const Problem& problem, const Result& run) {
  ElectricalFigures out;
  for (const StepRecord& step : run.history) {
    if (!(step.load_resistance > 0)) continue;
    if (!out.load_resistance_start) {
      out.load_resistance_start = out.load_resistance_least = step.load_resistance;
      for (const ContactRecord& contact : step.spot().contacts)
        out.contacts_start.push_back(contact.resistance);
    }
    out.load_resistance_least = std::min(*out.load_resistance_least, step.load_resistance);
  }
  const double peak_current = std::abs(run.peak_current.value);
  if (const auto* bank = std::get_if<circuit::CapacitorBank>(&problem.circuit.source)) {
    out.current_per_capacitor = peak_current / bank->parallel;
    out.voltage_per_capacitor = bank->charge_voltage / bank->series;
    out.rated_current = bank->rated_current;
    out.rated_voltage = bank->rated_voltage;
    out.current_rating_exceeded =
        out.rated_current && *out.current_per_capacitor > *out.rated_current;
  } else if (const auto* battery = std::get_if<circuit::Battery>(&problem.circuit.source)) {
    out.rated_current = battery->rated_current;
    out.current_rating_exceeded = out.rated_current && peak_current > *out.rated_current;
  }
  return out;
}

}  // namespace tabmelt
