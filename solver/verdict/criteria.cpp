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

constexpr const char* judgement = "engineering judgement";

std::optional<double> softening(const MaterialPtr& m) {
  return m ? m->softening_temperature : std::nullopt;
}

std::optional<double> solidus(const MaterialPtr& m) {
  if (!m || !m->melting) return std::nullopt;
  return m->melting->solidus;
}

std::optional<double> boiling(const MaterialPtr& m) {
  if (!m || !m->boiling) return std::nullopt;
  return m->boiling->temperature;
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

bool softened(const Problem& problem, const Result& result) {
  if (nugget_diameter(result) > 0) return true;
  const auto limit = softening_of_both(problem);
  return limit && result.peak_faying.value >= *limit;
}

bool is_fused(const Problem& problem, const Result& result) {
  const double diameter = nugget_diameter(result);
  return diameter > 0 && diameter >= smallest_good_nugget(problem.strip.thickness);
}

// Whether the nugget could form at all.
bool melting_known(const Problem& problem, const Result& result) {
  return melting_of_both(problem) || nugget_diameter(result) > 0;
}

// The largest voltage over a contact before the nugget formed.
Extreme voltage_before_melt(const Result& result, const Extreme& peak,
                            double StepRecord::*voltage) {
  const auto melt = first_melt(result);
  if (!melt || peak.time < *melt) return peak;
  Extreme before;
  before.r = peak.r;
  before.z = peak.z;
  for (const StepRecord& step : result.history) {
    if (step.time >= *melt) break;
    if (step.*voltage > before.value) {
      before.value = step.*voltage;
      before.time = step.time;
    }
  }
  return before;
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

std::optional<double> softening_of_both(const Problem& problem) {
  return higher(softening(problem.strip.material), softening(problem.can.material));
}

std::optional<double> melting_of_both(const Problem& problem) {
  return higher(solidus(problem.strip.material), solidus(problem.can.material));
}

double spot_energy(const Ledger& l) {
  return l.tip_contacts + l.faying_contacts + l.electrodes + l.strip + l.can + l.expelled;
}

double boiling_voltage(double boiling_temperature, double T0) {
  const double difference = boiling_temperature * boiling_temperature - T0 * T0;
  return 2 * std::sqrt(constants::lorenz * std::max(difference, 0.0));
}

std::optional<double> first_melt(const Result& result) {
  for (const StepRecord& step : result.history) {
    if (step.nugget_diameter > 0) return step.time;
  }
  if (nugget_diameter(result) > 0) return result.nugget.time;
  return std::nullopt;
}

std::optional<Finding> no_bond(const Problem& problem, const Result& result) {
  const auto soft = softening_of_both(problem);
  const auto limit = soft ? soft : melting_of_both(problem);
  if (!limit) return std::nullopt;
  Finding f = rung(Outcome::no_bond, "hottest place of the joint, both sides", result.peak_faying,
                   *limit, "K", problem.boundary.ambient,
                   soft ? "softening temperature of both materials"
                        : "melting of both materials, for want of a softening temperature");
  f.holds = soft ? !softened(problem, result) : nugget_diameter(result) <= 0;
  return f;
}

std::optional<Finding> stuck(const Problem& problem, const Result& result) {
  const auto soft = softening_of_both(problem);
  if (!melting_known(problem, result)) {
    if (!soft) return std::nullopt;
    Finding f = rung(Outcome::stuck, "hottest place of the joint, both sides", result.peak_faying,
                     *soft, "K", problem.boundary.ambient,
                     "softening temperature of both materials; no melting data to go further");
    f.holds = softened(problem, result);
    return f;
  }
  if (!soft && nugget_diameter(result) <= 0) return std::nullopt;
  Finding f;
  if (nugget_diameter(result) > 0) {
    f = nugget_rung(Outcome::stuck, problem, result);
  } else {
    f = rung(Outcome::stuck, "hottest place of the joint, both sides", result.peak_faying,
             *melting_of_both(problem), "K", problem.boundary.ambient,
             "melting temperature of both materials");
    // Without a nugget the joint has not melted, however close the hottest point came.
    f.margin = std::min(f.margin, 0.0);
  }
  f.holds = softened(problem, result) && !is_fused(problem, result);
  return f;
}

std::optional<Finding> fused(const Problem& problem, const Result& result) {
  if (!melting_known(problem, result)) return std::nullopt;
  Finding f = nugget_rung(Outcome::fused, problem, result);
  f.holds = is_fused(problem, result);
  return f;
}

std::optional<Finding> surface_sparking(const Problem& problem, const Result& result) {
  const double ambient = problem.boundary.ambient;
  std::optional<Finding> worst;
  const auto consider_contact = [&](const Contact& contact, const char* name, const MaterialPtr& a,
                                    const MaterialPtr& b, const Extreme& peak,
                                    double StepRecord::*voltage) {
    const auto boils = lower(boiling(a), boiling(b));
    if (contact.law == ContactLaw::fixed || !boils || *boils <= ambient) return;
    keep_worse(worst, hazard(Outcome::surface_sparking,
                             std::string("voltage over the ") + name + " before the joint melted",
                             voltage_before_melt(result, peak, voltage),
                             bursting_share * boiling_voltage(*boils, ambient), "V", 0,
                             "98 % of the boiling voltage 2 sqrt(L (T_boil^2 - T_ambient^2)), "
                             "Kohlrausch; Holm, Electric Contacts"));
  };
  consider_contact(problem.tip_contact, "tip contact", problem.electrode.material,
                   problem.strip.material, result.peak_tip_voltage, &StepRecord::tip_voltage);
  consider_contact(problem.faying_contact, "strip-can contact", problem.strip.material,
                   problem.can.material, result.peak_faying_voltage, &StepRecord::faying_voltage);

  const bool bridges = problem.tip_contact.law == ContactLaw::constriction ||
                       problem.faying_contact.law == ContactLaw::constriction;
  const double delivered = spot_energy(result.ledger);
  if ((bridges || result.ledger.expelled > 0) && delivered > 0) {
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
    keep_worse(worst, hazard(Outcome::surface_sparking, "energy thrown off as sparks", expelled,
                             std::min(expelled_share * delivered, expelled_energy), "J", 0,
                             "engineering judgement: 0.5 % of the energy at the spots, at most "
                             "20 mJ"));
  }
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
  if (result.vaporised_mass > 0) {
    Extreme boiled = result.peak_temperature_any;
    boiled.value = result.vaporised_mass;
    Finding f = hazard(Outcome::expulsion, "metal boiled off", boiled, 0, "kg", 0,
                       "engineering judgement: vapour under the tip drives melt out");
    keep_worse(worst, std::move(f));
  }
  return worst;
}

std::optional<Finding> electrode_sticking(const Problem& problem, const Result& result) {
  const double ambient = problem.boundary.ambient;
  std::optional<Finding> worst;
  if (const auto melts = solidus(problem.electrode.material)) {
    keep_worse(worst, hazard(Outcome::electrode_sticking, "hottest place of the electrode face",
                             result.peak_tip, *melts, "K", ambient,
                             "solidus of the electrode; alloying below it is not judged"));
  }
  if (const auto melts = solidus(problem.strip.material)) {
    keep_worse(worst, hazard(Outcome::electrode_sticking, "hottest place of the strip's surface",
                             result.peak_strip_top, *melts, "K", ambient,
                             "solidus of the strip; alloying below it is not judged"));
  }
  return worst;
}

std::optional<Finding> strip_burn_through(const Problem& problem, const Result& result) {
  std::optional<Finding> worst;
  if (touching(result.tip_contact_radius, problem.tip_contact) > 0 &&
      solidus(problem.strip.material)) {
    Extreme through = result.peak_strip;
    through.value = result.strip_molten_through ? result.strip_through_radius : 0;
    through.r = through.value;
    through.z = 0;
    keep_worse(worst,
               hazard(Outcome::strip_burn_through, "radius molten through the strip", through,
                      touching(result.tip_contact_radius, problem.tip_contact), "m", 0,
                      "engineering judgement: edge of the tip, beyond which nothing holds "
                      "the melt"));
  }
  if (const auto boils = boiling(problem.strip.material)) {
    keep_worse(worst, hazard(Outcome::strip_burn_through, "hottest place of the strip",
                             result.peak_strip, *boils - boiling_plateau, "K",
                             problem.boundary.ambient, "boiling temperature of the strip"));
  }
  return worst;
}

std::optional<Finding> can_puncture(const Problem& problem, const Result& result) {
  std::optional<Finding> worst;
  if (problem.can.thickness > 0 && solidus(problem.can.material)) {
    Extreme depth = result.can_penetration;
    keep_worse(worst, hazard(Outcome::can_puncture, "depth of melt in the can wall", depth,
                             melt_share_of_wall * problem.can.thickness, "m", 0,
                             std::string(judgement) + ": 0.8 of the wall"));
  }
  if (problem.cell_limits && result.peak_inner_wall.value > 0) {
    keep_worse(worst, hazard(Outcome::can_puncture, "hottest place of the inner wall",
                             result.peak_inner_wall, hot_wall, "K", problem.boundary.ambient,
                             std::string(judgement) +
                                 ": above 900 °C a steel wall gives way to tip and pressure"));
  }
  return worst;
}

}  // namespace tabmelt::criteria
