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

double strip_rim_radius_along(double d, double w, double s) {
  if (!(d > 0 && w > 0)) throw std::domain_error("no strip");
  if (!(s >= 0 && s < w)) throw std::domain_error("the slit parts the strip");
  const double u = std::pow(std::sinh(pi * d / (2 * w)), 2);
  const double q = std::pow(std::sin(pi * s / (2 * w)), 2);
  return 4 * (u + 1) * (u + q) * w / ((1 - q) * pi * std::sinh(pi * d / w));
}

double strip_rim_radius_across(double d, double w, double s) {
  if (!(d > 0 && w > d)) throw std::domain_error("electrodes off the strip");
  if (!(s >= 0)) throw std::domain_error("negative slit");
  // cosh a - cos b, without a difference.
  const double sum =
      std::pow(std::sinh(pi * s / (2 * w)), 2) + std::pow(std::sin(pi * d / (2 * w)), 2);
  return 4 * w / pi * sum / std::sin(pi * d / w);
}

}  // namespace tabmelt
