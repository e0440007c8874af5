#include "solver/verdict/advice.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>

#include "solver/material/sei_damage.h"
#include "solver/verdict/cell_side.h"
#include "solver/verdict/criteria.h"
#include "solver/verdict/strength.h"
#include "solver/words/in_words.h"

namespace tabmelt::advice {

namespace {

constexpr double copper_like = 1500;    // [K] copper and its alloys melt below
constexpr double light_force = 10;      // [N] lower end of what such tips are pressed with
constexpr double long_pulse = 20e-3;    // [s] upper end of the pulses in use
constexpr double narrow_margin = 0.15;  // [1]

std::string sentence(std::string text) { return in_words::capitalised(std::move(text)) + "."; }

double current_ends(const Result& result) {
  double end = 0;
  for (const StepRecord& step : result.history) {
    if (std::abs(step.current) > 0.1 * result.peak_current.value) end = step.time;
  }
  return end;
}

// When the nugget had its smallest good size; 0 if it never had.
double nugget_ready(const Problem& problem, const Result& result) {
  for (const StepRecord& step : result.history) {
    bool ready = true;
    for (std::size_t n = 0; n < step.joints.size(); ++n)
      ready = ready && step.joints[n].nugget_diameter >= criteria::wanted_nugget(problem, n);
    if (ready) return step.time;
  }
  return 0;
}

// Part of the heat a temperature or depth allows, [1].
double allowed_share(const Finding& f) { return f.margin < 0 ? 1 / (1 - f.margin) : 1; }

// Force at the moment of the largest current [N].
// Of the tip that presses less.
double force_at_peak(const Problem& problem, const Result& result) {
  for (const StepRecord& step : result.history) {
    if (step.time < result.peak_current.time) continue;
    double least = step.spot().force;
    for (const SpotRecord& spot : step.spots) least = std::min(least, spot.force);
    return least;
  }
  return problem.pressing.force;
}

// How this source is turned down.
std::string weaken(const Problem& problem) {
  if (std::holds_alternative<circuit::CapacitorBank>(problem.circuit.source)) {
    return "charge the bank lower or shorten the pulse";
  }
  if (std::holds_alternative<circuit::Battery>(problem.circuit.source)) return "shorten the pulse";
  return "lower the current or shorten the pulse";
}

std::string against_sparks(const Problem& problem, const Result& result) {
  if (problem.pressing.closing == Closing::unswitched) {
    return "the bank fires while the tip is still landing, at " +
           in_words::force(force_at_peak(problem, result)) +
           " when the current peaks: add a switch that closes after the tips are pressed down";
  }
  if (problem.pressing.force < light_force) {
    return in_words::force(problem.pressing.force) +
           " per tip is too light for this current: press with 10 to 30 N";
  }
  return "the current rises faster than the contacts can settle at " +
         in_words::force(problem.pressing.force) +
         ": clean strip and tips, press harder, lower the voltage or send a weak pulse ahead";
}

std::string against_expulsion(const Finding& f, const Problem& problem, const Result& result) {
  if (f.unit == "m") {
    return "the nugget filled the area of " +
           in_words::length(f.limit / criteria::nugget_share_of_face) +
           " that the indentation presses together: press harder or use a wider "
           "tip, otherwise " +
           less_heat(problem, result, allowed_share(f));
  }
  return "metal boiled (" + in_words::quantity(result.vaporised_mass, "kg") +
         "): " + less_heat(problem, result, 0);
}

std::string against_sticking(const Finding& f, const Problem& problem, const Result& result) {
  const double at_tip = result.ledger.contacts.empty() ? 0 : result.ledger.contacts.front();
  const double at_joints = result.ledger.in_contacts() - at_tip;
  if (at_tip > 1.5 * at_joints && at_joints > 0) {
    return "the tip contact got " + in_words::number(at_tip / at_joints) +
           " times the heat of the joint: clean and dress the tips, or press harder";
  }
  const MaterialPtr& tip = problem.electrode.material;
  if (tip && tip->melting && result.peak_tip.value >= tip->melting->solidus &&
      tip->melting->solidus < copper_like) {
    return "the tips melt at " + in_words::temperature(tip->melting->solidus) +
           ": tungsten or a wider face stands more, otherwise " +
           less_heat(problem, result, allowed_share(f));
  }
  return less_heat(problem, result, allowed_share(f));
}

std::string for_cell(const Finding& f, const Problem& problem, const Result& result) {
  std::string words = less_heat(problem, result, allowed_share(f));
  if (const auto layer = cell_side::worst_layer(problem, result)) {
    if (layer->limit > 0 && layer->time_above_limit > 0) {
      words += "; the " + layer->name + " was above " + in_words::temperature(layer->limit) +
               " for " + in_words::duration(layer->time_above_limit);
    }
    if (layer->damage > 0) {
      words += "; about " + in_words::percent(layer->damage) +
               " of the electrode's protective film there is lost";
      if (layer->peak.value > sei_fitted_to) words += " (extrapolated)";
    }
  }
  return words;
}

std::string distance(const Finding& f) {
  if (f.margin >= 0.995) return "nothing near the limit";
  return in_words::percent(std::max(f.margin, 0.0)) + " short of the limit";
}

constexpr const char* peel = "peel a sample before welding a pack";

std::string for_joint(const Finding& f, const Problem& problem, const Result& result) {
  if (f.margin >= narrow_margin) return peel;
  return "little to spare, in small steps: " + more_heat_at_joint(problem, result);
}

}  // namespace

bool all_slit(const Problem& problem) {
  return std::all_of(problem.sheets.begin(), problem.sheets.end() - 1,
                     [](const Sheet& sheet) { return sheet.slit; });
}

std::string between_two_limits(const Finding& fused, const Finding& hazard,
                               const std::string& hazard_words) {
  if (fused.margin >= narrow_margin) return sentence(peel);
  return sentence("little to spare on both sides: the nugget is " +
                  in_words::percent(std::max(fused.margin, 0.0)) + " above its limit, " +
                  hazard_words + " is " + distance(hazard) +
                  "; more heat would leave no margin there, `tabmelt advise` looks for a change "
                  "that helps both");
}

std::string less_heat(const Problem& problem, const Result& result, double share) {
  const double ready = nugget_ready(problem, result);
  const double end = current_ends(result);
  if (ready > 0 && end > 1.5 * ready) {
    return "the nugget had its size after " + in_words::duration(in_words::about(ready)) +
           " but the current ran for " + in_words::duration(end) + ": " +
           std::string(problem.circuit.power_switch.train.empty()
                           ? "add a switch that opens after about "
                           : "cut the pulse at about ") +
           in_words::duration(in_words::about(1.2 * ready));
  }
  const bool fused = criteria::all_fused(problem, result);

  if (!fused && problem.arrangement.spots > 1 && !all_slit(problem) && result.base_share_mean > 0 &&
      result.base_share_mean < 0.7) {
    return "shunting: " + in_words::percent(1 - result.base_share_mean) +
           " of the current heats the strip and not the joint: slit it between the electrodes, "
           "then " +
           weaken(problem);
  }
  if (!fused && result.interruptions > 0) {
    return "the tips bounced off while the current flowed, and each touch heats a small spot "
           "anew: press the tips down first, then close a switch";
  }
  if (!fused) {
    const double nugget = criteria::nugget_diameter(result);
    std::string words = nugget > 0 ? "much of the heat goes elsewhere, the nugget stays at " +
                                         in_words::length(nugget)
                                   : "the heat goes elsewhere before the joint melts";
    if (end > long_pulse) words += " in " + in_words::duration(end);
    return words + ": use a smaller tip and a shorter, stronger pulse";
  }
  if (share > 0 && share < 0.97) {
    return "cut the heat by about " + in_words::percent(in_words::about(1 - share)) + ": " +
           weaken(problem);
  }
  return weaken(problem);
}

std::string for_finding(const Finding& f, const Problem& problem, const Result& result) {
  switch (f.outcome) {
    case Outcome::no_bond:
      return sentence(f.holds ? more_heat_at_joint(problem, result) : "hot enough to stick");
    case Outcome::stuck:
      if (f.holds) return sentence(more_heat_at_joint(problem, result));
      return sentence(f.margin < 0 ? "not hot enough to stick" : "more than stuck");
    case Outcome::small_nugget:
      if (f.holds) return sentence(more_heat_at_joint(problem, result));
      return sentence(f.margin < 0 ? "no nugget" : "large enough");
    case Outcome::fused:
      return sentence(f.holds ? for_joint(f, problem, result)
                              : more_heat_at_joint(problem, result));
    case Outcome::can_puncture:
      if (f.holds) return sentence(less_heat(problem, result, allowed_share(f)));
      if (criteria::lowest_sheet(result).penetration.value >
          criteria::melt_share_advised * problem.base().thickness) {
        return sentence(
            "melt went through " +
            in_words::percent(criteria::lowest_sheet(result).penetration.value /
                              problem.base().thickness) +
            " of the can wall, more than the half to aim for: " + less_heat(problem, result, 0));
      }
      return sentence(distance(f));
    case Outcome::cell_overheated:
      return sentence(f.holds ? for_cell(f, problem, result) : distance(f));
    case Outcome::surface_sparking:
      return sentence(f.holds ? against_sparks(problem, result) : distance(f));
    case Outcome::expulsion:
      return sentence(f.holds ? against_expulsion(f, problem, result) : distance(f));
    case Outcome::electrode_sticking:
      return sentence(f.holds ? against_sticking(f, problem, result) : distance(f));
    case Outcome::strip_burn_through:
      return sentence(f.holds ? less_heat(problem, result, allowed_share(f)) : distance(f));
  }
  return {};
}

}  // namespace tabmelt::advice
