#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/case/draft.h"
#include "solver/circuit/capacitor.h"
#include "solver/material/constants.h"

namespace tabmelt {
namespace {

circuit::Source source_of(const Draft& draft) {
  switch (draft.source_kind) {
    case SourceKind::battery:
      return draft.battery;
    case SourceKind::bench_supply:
      return draft.supply;
    case SourceKind::exponential_current:
      return draft.exponential;
    case SourceKind::measured_current:
      return draft.trace;
    case SourceKind::capacitor_bank:
    case SourceKind::supercapacitor:
      break;
  }
  circuit::CapacitorBank bank = draft.bank;
  bank.supercapacitor = draft.source_kind == SourceKind::supercapacitor;
  bank.esr_factor = circuit::esr_factor_at(draft.esr_table, draft.bank_temperature);
  return bank;
}

// Metals only; what insulates is complained about with the rest.
double cold_resistivity(const MaterialPtr& material, double temperature) {
  return material && material->conducts_current() ? material->resistivity_at(temperature) : 0;
}

// What a piece needs to know of its metal to warm up.
void give_metal(circuit::Piece& piece, const MaterialPtr& material, double ambient) {
  constexpr double span = 100;  // [K] over which the slope of the resistivity is taken
  piece.resistivity = cold_resistivity(material, ambient);
  if (!material) return;
  piece.heat_capacity = material->density * material->specific_heat.at(ambient);
  if (piece.resistivity > 0)
    piece.temperature_coefficient =
        (cold_resistivity(material, ambient + span) / piece.resistivity - 1) / span;
}

std::vector<circuit::Piece> pieces_of(const Draft& draft) {
  const Problem& p = draft.problem;
  std::vector<circuit::Piece> pieces;
  for (const Conductor& conductor : draft.conductors) {
    pieces.push_back(conductor.piece);
    give_metal(pieces.back(), conductor.material, p.boundary.ambient);
  }
  if (draft.rod_length > 0) {
    pieces.push_back({"electrode rods", draft.rod_length,
                      constants::pi * p.electrode.body_radius * p.electrode.body_radius, 0,
                      p.arrangement.spots});
    give_metal(pieces.back(), p.electrode.material, p.boundary.ambient);
  }
  return pieces;
}

// A contactor closes for half of each bounce before it stays closed.
std::vector<circuit::OnTime> train_of(const Draft& draft) {
  std::vector<circuit::OnTime> train = draft.problem.circuit.power_switch.train;
  if (draft.main_pulse > 0) {
    train = {{draft.main_pulse, 0}};
    if (draft.first_pulse > 0) train.insert(train.begin(), {draft.first_pulse, draft.pause});
  }
  if (!train.empty())
    train.insert(train.begin(), static_cast<std::size_t>(draft.bounces),
                 {draft.bounce_time / 2, draft.bounce_time / 2});
  return train;
}

}  // namespace

double measured_film(const Draft& draft, const Contact& contact, const MaterialPtr& a,
                     const MaterialPtr& b, double resistance) {
  constexpr double cmy_factor = 1.25;
  if (!a || !b || !a->conducts_current() || !b->conducts_current()) return 0;
  const double softer = contact.hardness.value_or(
      std::min(a->hardness.value_or(INFINITY), b->hardness.value_or(INFINITY)));
  const double T = draft.problem.boundary.ambient;
  return resistance * draft.problem.pressing.force / softer -
         contact.roughness * 0.5 * (a->resistivity_at(T) + b->resistivity_at(T)) /
             (cmy_factor * contact.slope);
}

void finish(Draft& draft) {
  Problem& p = draft.problem;
  if (draft.tip_resistance > 0)
    p.tip_contact.film_resistance = measured_film(draft, p.tip_contact, p.electrode.material,
                                                  p.strip.material, draft.tip_resistance);
  if (draft.faying_resistance > 0)
    p.faying_contact.film_resistance = measured_film(draft, p.faying_contact, p.strip.material,
                                                     p.can.material, draft.faying_resistance);
  p.name = draft.title;
  // A slit along the line of the pair's middle that does not part the strip lets current around it,
  // as its rim_radius says.
  const bool parted = !draft.across && draft.slit_length >= draft.strip_width;
  if (draft.slit_length > 0 && !parted) p.strip.slit = false;
  p.circuit.source = source_of(draft);
  p.circuit.joints.clear();
  for (int n = 1; n <= draft.joint_count; ++n)
    p.circuit.joints.push_back({fmt::format("joint {}", n), draft.joint_resistance});
  p.circuit.pieces = pieces_of(draft);
  p.circuit.power_switch.train = train_of(draft);
  if (draft.has_charger()) p.circuit.charger = draft.charger;
  if (draft.has_inner_wall_limit)
    p.cell_limits = CellLimits{draft.inner_wall_limit, draft.inner_wall_reason};
  else if (draft.has_cell())
    p.cell_limits = CellLimits{};
  if (const auto preset = draft.preset()) {
    p.sequence.cell_radius = preset->cell_radius;
    p.sequence.cell_length = preset->cell_length;
  }
  for (InnerLayer& layer : p.inner)
    if (!layer.limit && !layer.molten_limit && !layer.damage_limit) layer.limit_reason.clear();
}

}  // namespace tabmelt
