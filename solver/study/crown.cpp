#include "solver/study/crown.h"

#include <algorithm>
#include <cmath>

#include "solver/solve.h"
#include "solver/verdict/verdict.h"

namespace tabmelt {
namespace {

constexpr double flatter = 3e-6, rounder = 10e-6;  // [m]
constexpr double coarser = 0.7;                    // [1] of the case's resolution

Outcome with_crown(Problem problem, double height) {
  const double tip = problem.electrode.tip_radius;
  problem.electrode.face_radius = (tip * tip + height * height) / (2 * height);
  problem.numerics.resolution *= coarser;
  return judge(problem, solve(problem)).leading;
}

}  // namespace

double crown(const Electrode& e) {
  if (!std::isfinite(e.face_radius)) return 0;
  const double inside = std::max(0.0, e.face_radius * e.face_radius - e.tip_radius * e.tip_radius);
  return e.face_radius - std::sqrt(inside);
}

std::optional<std::string> crown_warning(const Problem& problem) {
  if (!problem.under_tip().yields() || crown(problem.electrode) > rounder) return std::nullopt;
  const Outcome flat = with_crown(problem, flatter), round = with_crown(problem, rounder);
  if (flat == round) return std::nullopt;
  return "The tip is nearly flat, and that decides: with a crown of 3 um the verdict is \"" +
         words(flat) + "\", with 10 um \"" + words(round) +
         "\". Round the tips to be sure of them.";
}

}  // namespace tabmelt
