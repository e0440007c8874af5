#include "solver/circuit/lead_heating.h"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace tabmelt::circuit {
namespace {

constexpr double surface_transfer = 10;  // [W/m^2/K]

}  // namespace

double pulse_temperature_rise(const std::string& material, double cross_section,
                              double square_current_time, double start) {
  if (material != "copper" && material != "aluminium")
    throw std::invalid_argument("no heating constant is known for leads of " + material);
  if (!(cross_section > 0))
    throw std::invalid_argument("cross-section of a conductor must be positive");
  const bool copper = material == "copper";
  const double K = (copper ? 226 : 148) * 1e6;  // [A s^(1/2)/m^2]
  const double beta = copper ? 234.5 : 228;     // [K]
  const double hot = start - 273.15 + beta;
  return hot * std::expm1(square_current_time / (K * K * cross_section * cross_section));
}

double steady_temperature_rise(double resistance_per_metre, double cross_section,
                               double square_current_time, double weld_rate) {
  if (!(cross_section > 0))
    throw std::invalid_argument("cross-section of a conductor must be positive");
  const double diameter = 2 * std::sqrt(cross_section / std::numbers::pi);
  return resistance_per_metre * weld_rate * square_current_time /
         (surface_transfer * std::numbers::pi * diameter);
}

PieceLoad piece_load(const Piece& piece, double square_current_time,
                     std::optional<double> weld_rate) {
  if (!(piece.cross_section > 0))
    throw std::invalid_argument("cross-section of a conductor must be positive");
  PieceLoad load;
  load.pulse_energy = piece.resistance() * square_current_time;
  if (piece.heat_capacity > 0) {
    const double cold = piece.resistivity * square_current_time /
                        (piece.heat_capacity * piece.cross_section * piece.cross_section);
    const double a = piece.temperature_coefficient;
    load.pulse_rise = a > 0 ? std::expm1(a * cold) / a : cold;
  }
  if (weld_rate) {
    load.mean_power = load.pulse_energy * *weld_rate;
    load.steady_rise =
        steady_temperature_rise(piece.resistivity / piece.cross_section, piece.cross_section,
                                square_current_time, *weld_rate);
  }
  return load;
}

}  // namespace tabmelt::circuit
