#include "tests/support/slab.h"

#include <cmath>

#include "solver/material/constants.h"
#include "tests/support/root.h"

namespace tabmelt::exact {
namespace {

using constants::pi;

constexpr double negligible = 45;  // exp(-45) = 3e-20

}  // namespace

double QuenchedSlab::theta(double x, double t) const {
  const double Fo = solid.diffusivity() * t / (half_thickness * half_thickness);
  double sum = 0;
  for (int n = 0;; ++n) {
    const double b = (2 * n + 1) * pi / 2;
    if (b * b * Fo > negligible) {
      return sum;
    }
    sum += (n % 2 == 0 ? 2 : -2) / b * std::exp(-b * b * Fo) * std::cos(b * x / half_thickness);
  }
}

double QuenchedSlab::mean_theta(double t) const {
  const double Fo = solid.diffusivity() * t / (half_thickness * half_thickness);
  double sum = 0;
  for (int n = 0;; ++n) {
    const double b = (2 * n + 1) * pi / 2;
    if (b * b * Fo > negligible) {
      return sum;
    }
    sum += 2 / (b * b) * std::exp(-b * b * Fo);
  }
}

double FlashHeatedWall::rise(double x, double t) const {
  const double alpha_t = solid.diffusivity() * t;
  const double Fo = alpha_t / (thickness * thickness);
  const double final_rise = energy / (solid.density * solid.specific_heat * thickness);
  double sum = 0;
  if (Fo < 0.2) {
    for (int m = -4; m <= 4; ++m) {
      const double distance = x + 2 * m * thickness;
      sum += std::exp(-distance * distance / (4 * alpha_t));
    }
    return final_rise * sum / std::sqrt(pi * Fo);
  }
  for (int n = 1; n * n * pi * pi * Fo < negligible; ++n) {
    sum += std::cos(n * pi * x / thickness) * std::exp(-n * n * pi * pi * Fo);
  }
  return final_rise * (1 + 2 * sum);
}

double FlashHeatedWall::half_rise_time() const {
  const double scale = thickness * thickness / solid.diffusivity();
  const double half = energy / (2 * solid.density * solid.specific_heat * thickness);
  return root([&](double t) { return rise(thickness, t) - half; }, 0.05 * scale, 0.5 * scale);
}

double PulseHeatedSlab::rise(double x, double t) const {
  const auto heated = [&](double time) {
    if (time <= 0) {
      return 0.0;
    }
    const double Fo = solid.diffusivity() * time / (thickness * thickness);
    const double depth = 1 - x / thickness;
    double sum = 0;
    for (int n = 1; n * n * pi * pi * Fo < negligible; ++n) {
      sum += std::cos(n * pi * x / thickness) / (n * n) * std::exp(-n * n * pi * pi * Fo);
    }
    return flux * thickness / solid.conductivity *
           (Fo + (3 * depth * depth - 1) / 6 - 2 / (pi * pi) * sum);
  };
  return heated(t) - heated(t - duration);
}

}  // namespace tabmelt::exact
