#include "solver/verdict/verdict.h"

#include <algorithm>
#include <optional>

#include "solver/verdict/advice.h"
#include "solver/verdict/cell_side.h"
#include "solver/verdict/criteria.h"
#include "solver/verdict/strength.h"
#include "solver/words/in_words.h"

namespace tabmelt {

namespace {

// The words are those of the glossary (solver/words/glossary.h).
struct Rung {
  Outcome outcome;
  int severity;  // larger is worse
  const char* words;
  const char* key;
};

constexpr Rung ladder[] = {
    {Outcome::cell_overheated, 9, "cell overheated", "cell_overheated"},
    {Outcome::can_puncture, 8, "can puncture", "can_puncture"},
    {Outcome::strip_burn_through, 7, "burn-through", "strip_burn_through"},
    {Outcome::expulsion, 6, "expulsion (splash)", "expulsion"},
    {Outcome::surface_sparking, 5, "surface flash", "surface_sparking"},
    {Outcome::electrode_sticking, 4, "electrode sticking", "electrode_sticking"},
    {Outcome::no_bond, 3, "no weld", "no_bond"},
    {Outcome::stuck, 2, "stick weld", "stuck"},
    {Outcome::small_nugget, 2, "undersized weld", "small_nugget"},
    {Outcome::fused, 1, "fused", "fused"},
};

const Rung& rung(Outcome outcome) {
  return *std::find_if(std::begin(ladder), std::end(ladder),
                       [outcome](const Rung& r) { return r.outcome == outcome; });
}

bool worse(const Finding& a, const Finding& b) {
  if (a.holds != b.holds) return a.holds;
  if (a.outcome == b.outcome) return a.margin < b.margin;  // of several joints the weakest
  return rung(a.outcome).severity > rung(b.outcome).severity;
}

bool is_bond_state(Outcome outcome) {
  return outcome == Outcome::no_bond || outcome == Outcome::stuck ||
         outcome == Outcome::small_nugget || outcome == Outcome::fused;
}

// "nugget diameter 0.52 mm, limit 0.60 mm"
std::string deciding_number(const Finding& f) {
  std::string words = f.quantity + " " + in_words::quantity(f.value, f.unit);
  if (f.limit > 0) words += ", limit " + in_words::quantity(f.limit, f.unit);
  return words;
}

std::string bond_in_words(const Finding& f, const Verdict& verdict, const Result& result) {
  using namespace in_words;
  const JointSummary& joint = result.joints[*f.joint];
  switch (f.outcome) {
    case Outcome::fused: {
      const bool ring = joint.hole_diameter > 0;
      std::string words = "nugget of " + length(f.value) + (ring ? " equivalent diameter" : "") +
                          " (at least " + length(f.limit) + " wanted)";
      if (ring) words += ", a ring around an unmelted middle of " + length(joint.hole_diameter);
      if (verdict.peel_strength > 0) {
        words += ", about " + force(verdict.peel_strength) + " to peel off";
      }
      return words;
    }
    case Outcome::small_nugget:
      return "nugget of only " + length(f.value) + ", at least " + length(f.limit) + " wanted";
    case Outcome::stuck:
      return "one side melted, the joint reached " + temperature(joint.peak.value) + " of the " +
             temperature(f.limit) + " that melt both";
    default:
      return "the joint reached only " + temperature(f.value) + " of the " + temperature(f.limit) +
             " needed";
  }
}

// What happened and why, for the person at the bench.
std::string told(const Problem& problem, const Result& result, const Verdict& verdict) {
  std::string text;
  if (!result.beyond_model.empty()) {
    text = "The model does not hold here: " + result.beyond_model + ". Up to then: ";
  } else if (result.ending != Ending::finished) {
    text = "The computation stopped before its end; this holds up to then. ";
  }
  const Finding* bond = nullptr;
  for (const Finding& f : verdict.findings) {
    if (!bond && f.holds && is_bond_state(f.outcome)) bond = &f;
  }
  if (verdict.findings.empty() || !verdict.findings.front().holds) {
    return text + "The bond cannot be judged: a sheet has no melting temperature.";
  }
  const Finding& leading = verdict.findings.front();
  text += in_words::capitalised(words(leading.outcome)) + ": ";
  if (is_bond_state(leading.outcome)) {
    if (problem.joints() > 1) text += joint_name(problem, *leading.joint) + ", ";
    text += bond_in_words(leading, verdict, result) + ". " + leading.advice;
  } else {
    text += deciding_number(leading) + ". " + leading.advice;
    if (bond) {
      text += std::string(" Bond: ") + words(bond->outcome) + "; " +
              bond_in_words(*bond, verdict, result) + ".";
    }
  }
  if (verdict.leading == Outcome::fused) {
    const auto puncture = criteria::can_puncture(problem, result);
    if (puncture && criteria::lowest_sheet(result).penetration.value >
                        criteria::melt_share_advised * problem.base().thickness) {
      text += std::string(" ") + advice::for_finding(*puncture, problem, result);
    }
  }
  if (result.ending == Ending::finished && !verdict.cell_settled) {
    text +=
        " The inside of the cell had not passed its peak when the run ended: compute longer before "
        "calling it safe.";
  }
  return text;
}

// More heat for a weld that holds just so is no advice where a hazard is near as well.
void warn_of_narrow_window(Verdict& verdict) {
  constexpr double near = 0.35;  // [1] margin of a hazard that some tenths more heat use up
  const Finding* hazard = nullptr;
  for (const Finding& f : verdict.findings)
    if (!is_bond_state(f.outcome) && (!hazard || f.margin < hazard->margin)) hazard = &f;
  if (!hazard || hazard->margin >= near) return;
  for (Finding& f : verdict.findings)
    if (f.outcome == Outcome::fused && f.holds)
      f.advice = advice::between_two_limits(f, *hazard, words(hazard->outcome));
}

// Whose nugget is smallest for what it should have.
std::size_t weakest_joint(const Problem& problem, const Result& result) {
  const auto share = [&](std::size_t joint) {
    return criteria::nugget_diameter(result, joint) / criteria::wanted_nugget(problem, joint);
  };
  std::size_t weakest = 0;
  for (std::size_t n = 1; n < problem.joints(); ++n)
    if (share(n) < share(weakest)) weakest = n;
  return weakest;
}

}  // namespace

std::string words(Outcome outcome) { return rung(outcome).words; }

std::string key(Outcome outcome) { return rung(outcome).key; }

std::string if_limits_were_lower(const Verdict& verdict) {
  constexpr double lower = 0.2;
  std::string more;
  for (const Finding& f : verdict.findings) {
    if (is_bond_state(f.outcome) || f.holds || f.margin > lower) continue;
    more += (more.empty() ? "" : ", ") + std::string(words(f.outcome));
  }
  return more.empty() ? "With every limit 20 % lower nothing would change."
                      : "With every limit 20 % lower this would hold too: " + more + ".";
}

Verdict judge(const Problem& problem, const Result& result) {
  Verdict verdict;
  const auto keep = [&](std::optional<Finding> found) {
    if (!found) return;
    found->advice = advice::for_finding(*found, problem, result);
    verdict.findings.push_back(std::move(*found));
  };
  for (const auto& criterion :
       {cell_side::cell_overheated, criteria::can_puncture, criteria::strip_burn_through,
        criteria::expulsion, criteria::surface_sparking, criteria::electrode_sticking})
    keep(criterion(problem, result));
  for (const auto& criterion :
       {criteria::no_bond, criteria::stuck, criteria::small_nugget, criteria::fused})
    for (std::size_t joint = 0; joint < result.joints.size(); ++joint)
      keep(criterion(problem, result, joint));
  warn_of_narrow_window(verdict);
  std::stable_sort(verdict.findings.begin(), verdict.findings.end(), worse);

  const std::size_t weakest = weakest_joint(problem, result);
  verdict.nugget_diameter = criteria::nugget_diameter(result, weakest);
  verdict.smallest_good_nugget = criteria::wanted_nugget(problem, weakest);
  const Strength strength = spot_strength(problem, weakest, verdict.nugget_diameter);
  verdict.shear_strength = strength.shear;
  verdict.peel_strength = strength.peel;

  const auto holds = [&](Outcome outcome) {
    return std::any_of(verdict.findings.begin(), verdict.findings.end(),
                       [outcome](const auto& f) { return f.outcome == outcome && f.holds; });
  };
  // Whatever holds sorts first; with nothing judged the lowest bond stands.
  if (!verdict.findings.empty() && verdict.findings.front().holds) {
    verdict.leading = verdict.findings.front().outcome;
  }
  verdict.good = verdict.leading == Outcome::fused && result.ending == Ending::finished;

  verdict.cell_side = cell_side::judged_layers(problem, result);
  verdict.cell_judged = problem.cell_limits || cell_side::worst_layer(problem, result);
  if (verdict.cell_judged) {
    verdict.cell_settled = cell_side::settled(problem, result);
    verdict.cell_safe =
        verdict.cell_settled && !holds(Outcome::cell_overheated) && !holds(Outcome::can_puncture);
  }
  verdict.sentence = told(problem, result, verdict);
  return verdict;
}

}  // namespace tabmelt
