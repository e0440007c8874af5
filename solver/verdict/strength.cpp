#include "solver/verdict/strength.h"

#include <algorithm>
#include <optional>

#include "solver/material/constants.h"

namespace tabmelt {

namespace {

constexpr double shear_per_tensile = 0.6;   // [1]
constexpr double pull_out_factor = 2.5;     // [1] 2.5 to 3.1
constexpr double shear_per_peel = 5;        // [1] within 4 to 7
constexpr double nugget_per_thickness = 4;  // [1]
constexpr double least_nugget = 0.45e-3;    // [m]

std::optional<double> tensile_strength(const MaterialPtr& material) {
  return material ? material->tensile_strength : std::nullopt;
}

}  // namespace

double interfacial_shear(double nugget_diameter, double shear_strength) {
  return 0.25 * constants::pi * nugget_diameter * nugget_diameter * shear_strength;
}

double button_pull_out(double nugget_diameter, double thickness, double tensile) {
  return pull_out_factor * nugget_diameter * thickness * tensile;
}

double weaker_thickness(const Problem& problem, std::size_t joint) {
  const double upper = problem.sheets[joint].thickness, lower = problem.sheets[joint + 1].thickness;
  const bool on_can = problem.on_can && joint + 1 == problem.joints();
  return on_can ? upper : std::min(upper, lower);
}

Strength spot_strength(const Problem& problem, std::size_t joint, double nugget_diameter) {
  const std::optional<double> upper = tensile_strength(problem.sheets[joint].material);
  if (!upper || nugget_diameter <= 0) return {};
  const double weaker =
      std::min(*upper, tensile_strength(problem.sheets[joint + 1].material).value_or(*upper));
  Strength strength;
  strength.shear =
      std::min(interfacial_shear(nugget_diameter, shear_per_tensile * weaker),
               button_pull_out(nugget_diameter, weaker_thickness(problem, joint), *upper));
  strength.peel = strength.shear / shear_per_peel;
  return strength;
}

double smallest_good_nugget(double strip_thickness) {
  return std::max(nugget_per_thickness * strip_thickness, least_nugget);
}

}  // namespace tabmelt
