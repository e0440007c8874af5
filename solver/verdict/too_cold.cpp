#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <variant>

#include "solver/verdict/advice.h"
#include "solver/verdict/criteria.h"
#include "solver/words/in_words.h"

namespace tabmelt::advice {

namespace {

// Round figures of the rating.
constexpr double worth_naming = 1.4;     // [1]
constexpr double usual_face = 1.0e-3;    // [m] diameter
constexpr double usual_strip = 0.15e-3;  // [m]
constexpr double usual_force = 20;       // [N]
constexpr double high_force = 50;        // [N] upper end of what such tips are pressed with

struct Cause {
  double gain = 1;  // [1] heat at the joint without this cause, relative to now
  std::string words;
};

bool prescribed(const Problem& problem) {
  return std::holds_alternative<circuit::ExponentialCurrent>(problem.circuit.source) ||
         std::holds_alternative<circuit::TableCurrent>(problem.circuit.source);
}

const circuit::CapacitorBank* bank(const Problem& problem) {
  return std::get_if<circuit::CapacitorBank>(&problem.circuit.source);
}

Cause shunt(const Problem& problem, const Result& result) {
  const double share = result.base_share_mean;
  if (problem.arrangement.spots < 2 || all_slit(problem) || share <= 0 || share >= 1) return {};
  std::string words = "shunting: " + in_words::percent(1 - share) +
                      " of the current returned through the strip: slit it between the electrodes";
  if (problem.top().thickness > 0.12e-3) words += ", or use 0.1 mm";
  return {1 / share, words};
}

Cause losses(const Problem& problem, const Result& result) {
  if (prescribed(problem)) return {};
  const Ledger& l = result.ledger;
  const double spots = l.at_spots();
  const double total =
      spots + l.source_resistance + l.leads + l.joints + l.power_switch + l.switch_off + l.tip_lift;
  if (total <= 0) return {};
  const std::pair<double, std::string> parts[] = {
      {l.source_resistance,
       bank(problem)
           ? "the capacitors' own resistance takes % of it: more of them in parallel, or a "
             "low-resistance type"
           : "the source's own resistance takes % of it: a larger one, or two in "
             "parallel"},
      {l.leads, "the leads take % of it: shorten or double them"},
      {l.joints, "the joints in the loop take % of it: clean, press and bolt them"},
      {l.power_switch, "the switch takes % of it: more transistors in parallel"},
      {l.tip_lift,
       "the gaps under bouncing tips take % of it: press the tips down first, then close a switch"},
  };
  const auto& worst = *std::max_element(std::begin(parts), std::end(parts));
  const double share = worst.first / total;
  if (share <= 0 || share >= 1) return {};
  std::string words = worst.second;
  words.replace(words.find('%'), 1, in_words::percent(share));
  return {1 / (1 - share),
          "only " + in_words::percent(spots / total) + " of the energy reached the weld, " + words};
}

// When the current has ended for good [s].
double end_of_current(const Result& result) {
  double end = 0;
  for (const StepRecord& step : result.history)
    if (std::abs(step.current) > 0.1 * result.peak_current.value) end = step.time;
  return end;
}

// A battery whose protection ended the pulse before the switch did.
Cause protection(const Problem& problem, const Result& result) {
  const auto* battery = std::get_if<circuit::Battery>(&problem.circuit.source);
  if (!battery || !battery->cut_off_current ||
      result.peak_current.value < *battery->cut_off_current)
    return {};
  double asked = 0;  // [s] end of the train of pulses
  const double end = end_of_current(result);
  for (const circuit::OnTime& pulse : problem.circuit.power_switch.train) {
    asked += pulse.on;
    if (&pulse != &problem.circuit.power_switch.train.back()) asked += pulse.off;
  }
  if (asked == 0 && !result.history.empty()) asked = result.history.back().time;
  if (end >= 0.9 * asked) return {};
  return {std::max(asked / end, 1.0),
          "the source's protection opened after " + in_words::duration(end) + ", it bears " +
              in_words::current(*battery->cut_off_current) +
              ": take a source that gives this current for the whole pulse"};
}

Cause cut_off(const Problem& problem, const Result& result) {
  const Ledger& l = result.ledger;
  if (!bank(problem) || problem.circuit.power_switch.train.empty() || l.stored_before <= 0) {
    return {};
  }
  const double left = l.left_in_source / l.stored_before;
  if (left <= 0 || left >= 1) return {};
  return {1 / (1 - left), "the switch opened with " + in_words::percent(left) +
                              " of the energy still in the bank: lengthen the pulse"};
}

Cause wide_face(const Problem& problem, const Result&) {
  const double face = 2 * problem.under_tip().radius;
  if (std::isfinite(problem.electrode.face_radius)) return {};
  return {face / usual_face, "the current spreads over a tip face of " + in_words::length(face) +
                                 ": grind the tips smaller or round them"};
}

Cause high_pressing(const Problem& problem, const Result& result) {
  const double force = problem.pressing.force;
  const double spots = result.ledger.at_spots();
  if (force <= high_force || spots <= 0 || !problem.under_tip().yields()) return {};
  const double contacts = result.ledger.in_contacts() / spots;
  return {1 + contacts * (force / usual_force - 1),
          in_words::force(force) +
              " per tip leaves the contacts little resistance to heat with: press with 10 to 30 N"};
}

Cause thick_strip(const Problem& problem, const Result&) {
  const double thickness = problem.stack_height();
  return {thickness / usual_strip,
          (problem.joints() == 1 ? "a strip of " : "a stack of ") + in_words::length(thickness) +
              " needs a larger source: use 0.15 mm or thinner, doubled where the pack's current "
              "asks for it"};
}

// How much more heat the joint needs to melt, from the rise it reached; latent heat left out.
std::optional<double> heat_needed(const Problem& problem, const Result& result) {
  const std::size_t joint = criteria::coldest_joint(problem, result);
  const auto goal = criteria::melting_of_both(problem, joint);
  if (result.joints.empty()) return std::nullopt;
  const double rise = result.joints[joint].peak.value - problem.boundary.ambient;
  if (!goal || rise <= 0 || criteria::nugget_diameter(result) > 0) return std::nullopt;
  const double needed = (*goal - problem.boundary.ambient) / rise;
  return needed > 1.05 ? std::optional(needed) : std::nullopt;
}

std::string larger_source(const Problem& problem, const Result& result) {
  const auto needed = heat_needed(problem, result);
  std::string words = "the joint needs ";
  if (!needed) {
    words += "a little more heat: ";
  } else if (*needed < 20) {
    words += "about " + in_words::number(*needed) + " times the heat: ";
  } else {
    words += "far more heat: ";
  }
  if (const circuit::CapacitorBank* b = bank(problem)) {
    const bool full = b->rated_voltage && b->charge_voltage >= 0.9 * *b->rated_voltage * b->series;
    return words + (full ? "add capacitors in parallel"
                         : "charge the bank higher than " + in_words::voltage(b->charge_voltage) +
                               " or add capacitors");
  }
  const double end = result.history.empty() ? 0 : result.history.back().time;
  const double ended = end_of_current(result), current_ends = ended > 0 ? ended : end;
  // Past its peak while the current still flows: time no longer helps.
  const bool saturated =
      !result.joints.empty() &&
      result.joints[criteria::coldest_joint(problem, result)].peak.time < 0.8 * current_ends;
  if (prescribed(problem)) {
    if (!needed) return words + "raise the current by a tenth";
    return words + "raise the current to about " +
           in_words::current(in_words::about(result.peak_current.value * std::sqrt(*needed)));
  }
  return words + (saturated ? "a longer pulse will not help, a source of more current will"
                            : "lengthen the pulse or use a source of more current");
}

}  // namespace

std::string more_heat_at_joint(const Problem& problem, const Result& result) {
  const Cause causes[] = {shunt(problem, result),      losses(problem, result),
                          cut_off(problem, result),    protection(problem, result),
                          wide_face(problem, result),  high_pressing(problem, result),
                          thick_strip(problem, result)};
  const Cause& largest =
      *std::max_element(std::begin(causes), std::end(causes),
                        [](const Cause& a, const Cause& b) { return a.gain < b.gain; });
  if (largest.gain >= worth_naming) return largest.words;
  return larger_source(problem, result);
}

}  // namespace tabmelt::advice
