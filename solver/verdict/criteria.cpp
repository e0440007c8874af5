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
double touching(const Result& result, const Problem& problem, std::size_t contact) {
  const bool known = contact < result.contacts.size() && result.contacts[contact].radius > 0;
  return known ? result.contacts[contact].radius : problem.contacts[contact].radius;
}

// [m^2] over which the tip touched.
double tip_face(const Problem& problem, const Result& result) {
  const double radius = touching(result, problem, 0);
  return constants::pi * radius * radius;
}

// Publications marked † are cited from memory.
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

// Names the joint where there are several.
std::string at_joint(const std::string& quantity, const Problem& problem, std::size_t joint) {
  return problem.joints() == 1 ? quantity : quantity + ", " + joint_name(problem, joint);
}

std::string hottest_words(const Problem& problem) {
  return problem.joints() == 1 ? "hottest of the joint, both sides" : "hottest of both sides";
}

Finding bond_rung(Outcome outcome, std::string quantity, const Problem& problem, std::size_t joint,
                  const Extreme& where, double limit, std::string unit, double origin,
                  std::string basis) {
  Finding f = rung(outcome, at_joint(quantity, problem, joint), where, limit, std::move(unit),
                   origin, std::move(basis));
  f.joint = joint;
  return f;
}

Finding nugget_rung(Outcome outcome, const Problem& problem, const Result& result,
                    std::size_t joint) {
  Extreme where = result.joints[joint].nugget;
  where.value = nugget_diameter(result, joint);
  return bond_rung(outcome, "nugget diameter", problem, joint, where, wanted_nugget(problem, joint),
                   "m", 0, smallest_good_nugget_basis);
}

bool is_fused(const Problem& problem, const Result& result, std::size_t joint) {
  const double diameter = nugget_diameter(result, joint);
  return diameter > 0 && diameter >= wanted_nugget(problem, joint);
}

// Whether the nugget could form at all.
bool melting_known(const Problem& problem, const Result& result, std::size_t joint) {
  return melting_of_both(problem, joint) || nugget_diameter(result, joint) > 0;
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

namespace {
const SheetSummary& none() {
  static const SheetSummary untouched;
  return untouched;
}
}  // namespace

const SheetSummary& top_sheet(const Result& result) {
  return result.sheets.empty() ? none() : result.sheets.front();
}

const SheetSummary& lowest_sheet(const Result& result) {
  return result.sheets.empty() ? none() : result.sheets.back();
}

double nugget_diameter(const Result& result, std::size_t joint) {
  if (joint >= result.joints.size()) return 0;
  return std::max(result.joints[joint].nugget.value, result.joints[joint].fused_diameter);
}

double nugget_diameter(const Result& result) {
  double smallest = result.joints.empty() ? 0 : nugget_diameter(result, 0);
  for (std::size_t n = 1; n < result.joints.size(); ++n)
    smallest = std::min(smallest, nugget_diameter(result, n));
  return smallest;
}

double wanted_nugget(const Problem& problem, std::size_t joint) {
  return smallest_good_nugget(weaker_thickness(problem, joint));
}

bool all_fused(const Problem& problem, const Result& result) {
  for (std::size_t n = 0; n < problem.joints(); ++n)
    if (!is_fused(problem, result, n)) return false;
  return true;
}

std::optional<double> melting_of_both(const Problem& problem, std::size_t joint) {
  return higher(solidus(problem.sheets[joint].material),
                solidus(problem.sheets[joint + 1].material));
}

std::optional<double> melting_of_either(const Problem& problem, std::size_t joint) {
  if (!melting_of_both(problem, joint)) return std::nullopt;
  return lower(solidus(problem.sheets[joint].material),
               solidus(problem.sheets[joint + 1].material));
}

std::size_t coldest_joint(const Problem& problem, const Result& result) {
  std::size_t coldest = 0;
  double least = INFINITY;
  for (std::size_t n = 0; n < result.joints.size(); ++n) {
    const auto goal = melting_of_both(problem, n);
    if (!goal || result.joints[n].peak.value / *goal >= least) continue;
    least = result.joints[n].peak.value / *goal;
    coldest = n;
  }
  return coldest;
}

std::optional<Finding> no_bond(const Problem& problem, const Result& result, std::size_t joint) {
  const auto limit = melting_of_either(problem, joint);
  if (!limit) return std::nullopt;
  const Extreme& peak = result.joints[joint].peak;
  Finding f = bond_rung(Outcome::no_bond, hottest_words(problem), problem, joint, peak, *limit, "K",
                        problem.boundary.ambient,
                        "melting of the side that melts first: thin nickel does not bond before "
                        "(Tan, thesis, Waterloo (2005))");
  f.holds = nugget_diameter(result, joint) <= 0 && peak.value < *limit;
  return f;
}

std::optional<Finding> stuck(const Problem& problem, const Result& result, std::size_t joint) {
  const auto either = melting_of_either(problem, joint);
  if (!either) return std::nullopt;
  const Extreme& peak = result.joints[joint].peak;
  Finding f = bond_rung(Outcome::stuck, hottest_words(problem), problem, joint, peak,
                        *melting_of_both(problem, joint), "K", problem.boundary.ambient,
                        "melting temperature of both materials");
  // Without a nugget the joint has not melted, however close the hottest point came.
  if (nugget_diameter(result, joint) <= 0) f.margin = std::min(f.margin, 0.0);
  f.holds = nugget_diameter(result, joint) <= 0 && peak.value >= *either;
  return f;
}

std::optional<Finding> small_nugget(const Problem& problem, const Result& result,
                                    std::size_t joint) {
  if (!melting_known(problem, result, joint)) return std::nullopt;
  Finding f = nugget_rung(Outcome::small_nugget, problem, result, joint);
  f.holds = nugget_diameter(result, joint) > 0 && !is_fused(problem, result, joint);
  return f;
}

std::optional<Finding> fused(const Problem& problem, const Result& result, std::size_t joint) {
  if (!melting_known(problem, result, joint)) return std::nullopt;
  Finding f = nugget_rung(Outcome::fused, problem, result, joint);
  f.holds = is_fused(problem, result, joint);
  return f;
}

std::optional<Finding> surface_sparking(const Problem& problem, const Result& result) {
  std::optional<Finding> worst;
  const double delivered = result.ledger.at_spots();
  const bool bridges = std::any_of(problem.contacts.begin(), problem.contacts.end(),
                                   [](const Contact& contact) { return contact.bursts(); });
  if (delivered <= 0 || (!bridges && result.ledger.expelled <= 0)) return worst;
  Extreme expelled;
  expelled.value = result.ledger.expelled;
  expelled.time = ledger_end(result);
  const auto sparks = [](const StepRecord& step) {
    return std::any_of(step.spots.begin(), step.spots.end(),
                       [](const SpotRecord& spot) { return spot.energy_expelled > 0; });
  };
  const auto first = std::find_if(result.history.begin(), result.history.end(), sparks);
  if (first != result.history.end()) expelled.time = first->time;
  double highest = 0;
  for (const ContactSummary& contact : result.contacts) {
    if (contact.voltage.value <= highest) continue;
    highest = contact.voltage.value;
    expelled.z = contact.voltage.z;
  }
  keep_worse(worst,
             hazard(Outcome::surface_sparking, "energy thrown off as sparks", expelled,
                    std::min(expelled_share * delivered, expelled_energy), "J", 0,
                    "engineering judgement: 0.5 % of the energy at the spots, at most 20 mJ"));
  if (!bridges) return worst;
  for (const ContactSummary& contact : result.contacts)
    keep_worse(worst, hazard(Outcome::surface_sparking, "current through bursting bridges",
                             contact.burst_share, bursting_share, "1", 0,
                             "engineering judgement: half of a contact boils at once (Kohlrausch, "
                             "2 sqrt(L (T_boil^2 - T^2)); Holm, Electric Contacts)"));
  return worst;
}

std::optional<Finding> expulsion(const Problem& problem, const Result& result) {
  std::optional<Finding> worst;
  for (std::size_t n = 0; n < result.joints.size(); ++n) {
    const double pressed = touching(result, problem, n + 1);
    if (pressed <= 0 || !melting_known(problem, result, n)) continue;
    const JointSummary& joint = result.joints[n];
    Extreme width = joint.nugget;  // out to the rim of a ring-shaped nugget
    width.value = std::hypot(joint.nugget.value, joint.hole_diameter);
    keep_worse(worst,
               hazard(Outcome::expulsion, at_joint("outer diameter of the nugget", problem, n),
                      width, nugget_share_of_face * 2 * pressed, "m", 0,
                      "engineering judgement: the pressed face; 0.8 to 1 of it after the "
                      "force balance of Senkara, Zhang, Hu, Weld. J. 83 (2004) 123-s†"));
    worst->joint = n;
  }
  const double delivered = result.ledger.at_spots();
  if (problem.top().material && problem.top().material->boiling && delivered > 0) {
    Extreme boiled = result.peak_temperature_any;
    boiled.value = result.vaporised_mass * problem.top().material->boiling->latent_heat;
    keep_worse(worst, hazard(Outcome::expulsion, "heat in boiled metal", boiled,
                             std::min(expelled_share * delivered, expelled_energy), "J", 0,
                             "engineering judgement: vapour under the tip drives melt out; as much "
                             "as counts as sparking"));
  }
  return worst;
}

std::optional<Finding> electrode_sticking(const Problem& problem, const Result& result) {
  const double face = tip_face(problem, result);
  if (face <= 0 || !solidus(problem.electrode.material) || !solidus(problem.top().material))
    return std::nullopt;
  Extreme molten = result.peak_top;
  molten.value = result.stuck_area / face;
  return hazard(
      Outcome::electrode_sticking, "share of the tip's face that melted", molten, stuck_share, "1",
      0, "engineering judgement: a tip held by most of its face comes off harder than it should");
}

std::optional<Finding> strip_burn_through(const Problem& problem, const Result& result) {
  const double face = tip_face(problem, result);
  if (face <= 0 || !solidus(problem.top().material)) return std::nullopt;
  std::optional<Finding> worst;
  Extreme through = top_sheet(result).peak;
  through.value = result.through_area / face;
  keep_worse(worst,
             hazard(Outcome::strip_burn_through, "tip's face over strip molten through", through,
                    through_share, "1", 0,
                    "engineering judgement: a tip that presses on melt over half its face sinks "
                    "through"));
  keep_worse(worst,
             hazard(Outcome::strip_burn_through, "molten-through ring beside the tip",
                    result.through_band, ring_per_thickness * problem.top().thickness, "m", 0,
                    "1.5 times the strip's thickness: in a molten sheet only a hole wider "
                    "than 1 to 1.5 times its thickness grows (Taylor & Michael, J. Fluid "
                    "Mech. 58 (1973) 625†)"));
  if (!problem.on_can && solidus(problem.base().material))
    keep_worse(
        worst,
        hazard(Outcome::strip_burn_through, "depth of melt in the " + problem.base().name,
               lowest_sheet(result).penetration, melt_share_of_wall * problem.base().thickness, "m",
               0, std::string(judgement) + ": 0.8 of the strip, the melt drops out"));
  return worst;
}

std::optional<Finding> can_puncture(const Problem& problem, const Result& result) {
  std::optional<Finding> worst;
  const Sheet& wall = problem.base();
  if (!problem.on_can || wall.thickness <= 0) return worst;
  if (solidus(wall.material))
    keep_worse(worst, hazard(Outcome::can_puncture, "depth of melt in the can wall",
                             lowest_sheet(result).penetration, melt_share_of_wall * wall.thickness,
                             "m", 0, std::string(judgement) + ": 0.8 of the wall"));
  if (problem.cell_limits) {
    Extreme sunk = result.wall_sunk;
    sunk.value *= wall.thickness;
    keep_worse(worst, hazard(Outcome::can_puncture, "depth the hot wall was pushed in", sunk,
                             sunk_share_of_wall * wall.thickness, "m", 0,
                             "engineering judgement: half of the wall; flow stress of hot steel "
                             "after Misaka & Yoshimoto (1967)"));
  }
  return worst;
}

}  // namespace tabmelt::criteria
