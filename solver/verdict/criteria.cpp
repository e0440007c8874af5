#include "solver/verdict/criteria.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "solver/material/constants.h"
#include "solver/verdict/strength.h"

namespace tabmelt::criteria {

namespace {

// [m] What touched in the run; the case's radius where the run does not say.
double touching(double in_the_run, const Contact& contact) {
  return in_the_run > 0 ? in_the_run : contact.radius;
}

// [m^2] over which the tip touched.
double tip_face(const Problem& problem, const Result& result) {
  const double radius = touching(result.tip_contact_radius, problem.tip_contact);
  return constants::pi * radius * radius;
}

constexpr const char* judgement = "engineering judgement";

std::optional<double> solidus(const MaterialPtr& m) {
  if (!m || !m->melting) return std::nullopt;
  return m->melting->solidus;
}

std::optional<double> higher(std::optional<double> a, std::optional<double> b) {
  if (!a || !b) return std::nullopt;
  return std::max(*a, *b);
}

std::optional<double> lower(std::optional<double> a, std::optional<double> b) {
  if (!a || !b) return a ? a : b;
  return std::min(*a, *b);
}

// A number that must stay below its limit.
Finding hazard(Outcome outcome, std::string quantity, const Extreme& where, double limit,
               std::string unit, double origin, std::string basis) {
  Finding f;
  f.outcome = outcome;
  f.quantity = std::move(quantity);
  f.value = where.value;
  f.limit = limit;
  f.unit = std::move(unit);
  f.margin = margin_below(where.value, limit, origin);
  f.holds = where.value >= limit;
  f.time = where.time;
  f.r = where.r;
  f.z = where.z;
  f.basis = std::move(basis);
  return f;
}

void keep_worse(std::optional<Finding>& worst, Finding candidate) {
  if (!worst || candidate.margin < worst->margin) worst = std::move(candidate);
}

// A number that has to reach its limit; who holds is settled by the caller.
Finding rung(Outcome outcome, std::string quantity, const Extreme& where, double limit,
             std::string unit, double origin, std::string basis) {
  Finding f =
      hazard(outcome, std::move(quantity), where, limit, std::move(unit), origin, std::move(basis));
  f.margin = f.margin == 0 ? 0 : -f.margin;
  f.holds = false;
  return f;
}

Extreme nugget_where(const Result& result) {
  Extreme where = result.nugget;
  where.value = nugget_diameter(result);
  return where;
}

Finding nugget_rung(Outcome outcome, const Problem& problem, const Result& result) {
  return rung(outcome, "nugget diameter", nugget_where(result),
              smallest_good_nugget(problem.strip.thickness), "m", 0, smallest_good_nugget_basis);
}

bool is_fused(const Problem& problem, const Result& result) {
  const double diameter = nugget_diameter(result);
  return diameter > 0 && diameter >= smallest_good_nugget(problem.strip.thickness);
}

// Whether the nugget could form at all.
bool melting_known(const Problem& problem, const Result& result) {
  return melting_of_both(problem) || nugget_diameter(result) > 0;
}

double ledger_end(const Result& result) {
  return result.history.empty() ? 0 : result.history.back().time;
}

}  // namespace

double margin_below(double value, double limit, double origin) {
  const double scale = limit - origin;
  if (scale > 0) return (limit - value) / scale;
  return value >= limit ? -1 : 1;  // a limit at the origin leaves no scale
}

double nugget_diameter(const Result& result) {
  return std::max(result.nugget.value, result.fused_diameter);
}

std::optional<double> melting_of_both(const Problem& problem) {
  return higher(solidus(problem.strip.material), solidus(problem.can.material));
}

double spot_energy(const Ledger& l) {
  return l.tip_contacts + l.faying_contacts + l.electrodes + l.strip + l.can + l.expelled;
}

std::optional<double> first_melt(const Result& result) {
  for (const StepRecord& step : result.history) {
    if (step.nugget_diameter > 0) return step.time;
  }
  if (nugget_diameter(result) > 0) return result.nugget.time;
  return std::nullopt;
}

std::optional<double> melting_of_either(const Problem& problem) {
  if (!melting_of_both(problem)) return std::nullopt;
  return lower(solidus(problem.strip.material), solidus(problem.can.material));
}

std::optional<Finding> no_bond(const Problem& problem, const Result& result) {
  const auto limit = melting_of_either(problem);
  if (!limit) return std::nullopt;
  Finding f = rung(Outcome::no_bond, "hottest place of the joint, both sides", result.peak_faying,
                   *limit, "K", problem.boundary.ambient,
                   "melting of the side that melts first: thin nickel does not bond before (Tan, "
                   "thesis, Waterloo (2005))");
  f.holds = nugget_diameter(result) <= 0 && result.peak_faying.value < *limit;
  return f;
}

std::optional<Finding> stuck(const Problem& problem, const Result& result) {
  const auto either = melting_of_either(problem);
  if (!either) return std::nullopt;
  Finding f = rung(Outcome::stuck, "hottest place of the joint, both sides", result.peak_faying,
                   *melting_of_both(problem), "K", problem.boundary.ambient,
                   "melting temperature of both materials");
  // Without a nugget the joint has not melted, however close the hottest point came.
  if (nugget_diameter(result) <= 0) f.margin = std::min(f.margin, 0.0);
  f.holds = nugget_diameter(result) <= 0 && result.peak_faying.value >= *either;
  return f;
}

std::optional<Finding> small_nugget(const Problem& problem, const Result& result) {
  if (!melting_known(problem, result)) return std::nullopt;
  Finding f = nugget_rung(Outcome::small_nugget, problem, result);
  f.holds = nugget_diameter(result) > 0 && !is_fused(problem, result);
  return f;
}

std::optional<Finding> fused(const Problem& problem, const Result& result) {
  if (!melting_known(problem, result)) return std::nullopt;
  Finding f = nugget_rung(Outcome::fused, problem, result);
  f.holds = is_fused(problem, result);
  return f;
}

std::optional<Finding> surface_sparking(const Problem& problem, const Result& result) {
  std::optional<Finding> worst;
  const double delivered = spot_energy(result.ledger);
  const bool bridges = problem.tip_contact.law == ContactLaw::constriction ||
                       problem.faying_contact.law == ContactLaw::constriction;
  if (delivered <= 0 || (!bridges && result.ledger.expelled <= 0)) return worst;
  Extreme expelled;
  expelled.value = result.ledger.expelled;
  expelled.time = ledger_end(result);
  for (const StepRecord& step : result.history) {
    if (step.energy_expelled > 0 || step.other_energy_expelled > 0) {
      expelled.time = step.time;  // of the first spark
      break;
    }
  }
  expelled.z = result.peak_tip_voltage.value > result.peak_faying_voltage.value
                   ? problem.strip.thickness
                   : 0;
  keep_worse(worst,
             hazard(Outcome::surface_sparking, "energy thrown off as sparks", expelled,
                    std::min(expelled_share * delivered, expelled_energy), "J", 0,
                    "engineering judgement: 0.5 % of the energy at the spots, at most 20 mJ"));
  if (bridges)
    keep_worse(worst, hazard(Outcome::surface_sparking, "current through bursting bridges",
                             result.burst_share, bursting_share, "1", 0,
                             "engineering judgement: half of a contact boils at once (Kohlrausch, "
                             "2 sqrt(L (T_boil^2 - T^2)); Holm, Electric Contacts)"));
  return worst;
}

std::optional<Finding> expulsion(const Problem& problem, const Result& result) {
  std::optional<Finding> worst;
  if (touching(result.faying_contact_radius, problem.faying_contact) > 0 &&
      melting_known(problem, result)) {
    Extreme width = result.nugget;  // out to the rim of a ring-shaped nugget
    width.value = std::hypot(result.nugget.value, result.nugget_hole_diameter);
    keep_worse(
        worst,
        hazard(Outcome::expulsion, "outer diameter of the nugget", width,
               nugget_share_of_face * 2 *
                   touching(result.faying_contact_radius, problem.faying_contact),
               "m", 0,
               "engineering judgement: 0.9 of the pressed face; 0.8 to 1 after the "
               "force balance of Senkara, Zhang, Hu, Weld. J. 83 (2004) 123-s (from memory)"));
  }
  const double delivered = spot_energy(result.ledger);
  if (problem.strip.material && problem.strip.material->boiling && delivered > 0) {
    Extreme boiled = result.peak_temperature_any;
    boiled.value = result.vaporised_mass * problem.strip.material->boiling->latent_heat;
    keep_worse(worst, hazard(Outcome::expulsion, "heat in boiled metal", boiled,
                             std::min(expelled_share * delivered, expelled_energy), "J", 0,
                             "engineering judgement: vapour under the tip drives melt out; as much "
                             "as counts as sparking"));
  }
  return worst;
}

std::optional<Finding> electrode_sticking(const Problem& problem, const Result& result) {
  const double face = tip_face(problem, result);
  if (face <= 0 || !solidus(problem.electrode.material) || !solidus(problem.strip.material))
    return std::nullopt;
  Extreme molten = result.peak_strip_top;
  molten.value = result.stuck_area / face;
  return hazard(
      Outcome::electrode_sticking, "share of the tip's face that melted", molten, stuck_share, "1",
      0, "engineering judgement: a tip held by half its face comes off harder than it should");
}

std::optional<Finding> strip_burn_through(const Problem& problem, const Result& result) {
  const double face = tip_face(problem, result);
  if (face <= 0 || !solidus(problem.strip.material)) return std::nullopt;
  std::optional<Finding> worst;
  Extreme through = result.peak_strip;
  through.value = result.through_area / face;
  keep_worse(worst,
             hazard(Outcome::strip_burn_through, "share of the tip's face molten through", through,
                    through_share, "1", 0,
                    "engineering judgement: a tip that presses on melt over half its face sinks "
                    "through"));
  keep_worse(worst,
             hazard(Outcome::strip_burn_through, "molten-through ring beside the tip",
                    result.through_band, ring_per_thickness * problem.strip.thickness, "m", 0,
                    "1.5 times the strip's thickness: in a molten sheet only a hole wider "
                    "than 1 to 1.5 times its thickness grows (Taylor & Michael, J. Fluid "
                    "Mech. 58 (1973) 625, from memory)"));
  return worst;
}

std::optional<Finding> can_puncture(const Problem& problem, const Result& result) {
  std::optional<Finding> worst;
  if (problem.can.thickness > 0 && solidus(problem.can.material))
    keep_worse(worst, hazard(Outcome::can_puncture, "depth of melt in the can wall",
                             result.can_penetration, melt_share_of_wall * problem.can.thickness,
                             "m", 0, std::string(judgement) + ": 0.8 of the wall"));
  if (problem.cell_limits && problem.can.thickness > 0) {
    Extreme sunk = result.wall_sunk;
    sunk.value *= problem.can.thickness;
    keep_worse(worst, hazard(Outcome::can_puncture, "depth the hot wall was pushed in", sunk,
                             sunk_share_of_wall * problem.can.thickness, "m", 0,
                             "engineering judgement: half of the wall; flow stress of hot steel "
                             "after Misaka & Yoshimoto (1967)"));
  }
  return worst;
}

}  // namespace tabmelt::criteria
