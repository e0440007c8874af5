#include "solver/circuit/capacitor.h"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace tabmelt::circuit {

double esr_from_dissipation(double dissipation_factor, double capacitance, double frequency) {
  if (!(dissipation_factor >= 0) || !(capacitance > 0) || !(frequency > 0))
    throw std::invalid_argument(
        "dissipation factor, capacitance and frequency of a capacitor must be positive");
  return dissipation_factor / (2 * std::numbers::pi * frequency * capacitance);
}

double esr_factor_at(const std::vector<std::pair<double, double>>& table, double temperature) {
  if (table.empty()) return 1;
  if (temperature <= table.front().first) return table.front().second;
  for (std::size_t n = 1; n < table.size(); ++n) {
    const auto& [T0, f0] = table[n - 1];
    const auto& [T1, f1] = table[n];
    if (temperature <= T1) return std::lerp(f0, f1, (temperature - T0) / (T1 - T0));
  }
  return table.back().second;
}

double largest_string_current(double current, int parallel, double esr_spread) {
  if (parallel < 1) throw std::invalid_argument("strings in parallel must be at least one");
  if (!(esr_spread >= 0) || !(esr_spread < 1))
    throw std::invalid_argument("spread of the series resistance must lie between 0 and 1");
  return current / (1 + (parallel - 1) * (1 - esr_spread) / (1 + esr_spread));
}

PartLoad part_load(const CapacitorBank& bank, double square_current_time, double rate) {
  PartLoad load;
  load.ripple_current = std::sqrt(rate * square_current_time) / bank.parallel;
  load.power = bank.part_esr * bank.esr_factor * load.ripple_current * load.ripple_current;
  load.rise = load.power * bank.thermal_resistance.value_or(0);
  return load;
}

}  // namespace tabmelt::circuit
