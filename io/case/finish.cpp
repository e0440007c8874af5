#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/case/draft.h"
#include "io/case/schema.h"
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

namespace {

// A slit along the line of the pair's middle that does not part the strip lets current around it,
// as its rim_radius says.
bool parted(const StripDraft& strip) {
  return strip.slit_length <= 0 || (!strip.across && strip.slit_length >= strip.width);
}

void stack_up(const Draft& draft, Problem& p) {
  p.sheets.clear();
  for (const StripDraft& strip : draft.strips) {
    p.sheets.push_back(strip.sheet);
    if (!parted(strip)) p.sheets.back().slit = false;
  }
  p.on_can = draft.has_can();
  if (p.on_can) p.sheets.push_back(draft.can);
  p.base().slit = false;
}

void touch(const Draft& draft, Problem& p) {
  p.contacts = {draft.tip};
  if (draft.tip_resistance > 0)
    p.under_tip().film_resistance = measured_film(draft, draft.tip, p.electrode.material,
                                                  p.top().material, draft.tip_resistance);
  for (std::size_t n = 0; n < p.joints(); ++n) {
    Contact contact = draft.faying;
    const MaterialPtr &upper = p.sheets[n].material, &lower = p.sheets[n + 1].material;
    if (contact.radius <= 0) contact.radius = p.electrode.tip_radius + p.stack_above(n + 1);
    if (p.joints() > 1 && !draft.is_given("contact.faying.film_resistance"))
      contact.film_resistance = schema::strip_film(upper);
    if (draft.faying_resistance > 0)
      contact.film_resistance =
          measured_film(draft, contact, upper, lower, draft.faying_resistance);
    p.contacts.push_back(contact);
  }
}

}  // namespace

void finish(Draft& draft) {
  Problem& p = draft.problem;
  stack_up(draft, p);
  touch(draft, p);
  p.name = draft.title;
  p.circuit.source = source_of(draft);
  p.circuit.joints.clear();
  for (int n = 1; n <= draft.joint_count; ++n)
    p.circuit.joints.push_back({fmt::format("joint {}", n), draft.joint_resistance});
  p.circuit.pieces = pieces_of(draft);
  p.circuit.power_switch.train = train_of(draft);
  if (draft.has_charger()) p.circuit.charger = draft.charger;
  if (draft.has_cell() && !p.cell_limits) p.cell_limits.emplace();
  if (const auto preset = draft.preset()) {
    p.sequence.cell_radius = preset->cell_radius;
    p.sequence.cell_length = preset->cell_length;
  }
  for (InnerLayer& layer : p.inner)
    if (!layer.limit && !layer.molten_limit && !layer.damage_limit) layer.limit_reason.clear();
}

}  // namespace tabmelt
