#include "io/case/effective_rim.h"

#include <cmath>
#include <stdexcept>

#include "solver/material/constants.h"

namespace tabmelt {

using constants::pi;

double disc_rim_radius(double d, double b) {
  if (!(d > 0 && 2 * b > d)) throw std::domain_error("electrodes off the disc");
  return d * (4 * b * b + d * d) / (4 * b * b - d * d);
}

double strip_rim_radius_along(double d, double w) {
  if (!(d > 0 && w > 0)) throw std::domain_error("no strip");
  return w / pi * std::sinh(pi * d / w);
}

double strip_rim_radius_across(double d, double w) {
  if (!(d > 0 && w > d)) throw std::domain_error("electrodes off the strip");
  return 2 * w / pi * std::tan(pi * d / (2 * w));
}

}  // namespace tabmelt
