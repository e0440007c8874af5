#include "solver/problem/weld_sequence.h"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace tabmelt {
namespace {

void require(bool sound, const char* message) {
  if (!sound) throw std::invalid_argument(message);
}

double area(const WindingRod& rod) { return std::numbers::pi * rod.radius * rod.radius; }

}  // namespace

double end_rise(const WindingRod& rod, double heat, double time) {
  require(rod.radius > 0 && rod.length > 0 && rod.conductivity > 0 && rod.heat_capacity > 0,
          "a winding needs a size, a conductivity and a heat capacity");
  require(time > 0, "time after the weld must be positive");
  const double k = rod.conductivity, c = rod.heat_capacity, H = rod.length;
  // Once heat has gone to and fro many times the sum would need many terms; its limit is exact then
  // to round-off.
  const double spread = k * time / (c * H * H);
  if (spread > 10) return heat / (area(rod) * H * c);
  double images = 0;
  for (int n = 1;; ++n) {
    const double image = std::exp(-n * n / spread);
    images += image;
    if (image < 1e-17) break;
  }
  return heat / (area(rod) * std::sqrt(std::numbers::pi * k * c * time)) * (1 + 2 * images);
}

double rise_before_last(const WindingRod& rod, double heat, int welds, double pause) {
  require(welds >= 1, "there must be at least one weld");
  require(pause > 0, "the pause between two welds must be positive");
  double rise = 0;
  for (int m = 1; m < welds; ++m) rise += end_rise(rod, heat, m * pause);
  return rise;
}

std::optional<double> shortest_pause(const WindingRod& rod, double heat, int welds,
                                     double allowed) {
  require(welds >= 1, "there must be at least one weld");
  if (welds == 1) return 0;
  const double longest = 100 * rod.heat_capacity * rod.length * rod.length / rod.conductivity;
  if (rise_before_last(rod, heat, welds, longest) > allowed) return std::nullopt;
  // The rise falls with the pause: halve the interval of its logarithm.
  double low = std::log(longest * 1e-12), high = std::log(longest);
  if (rise_before_last(rod, heat, welds, std::exp(low)) <= allowed) return std::exp(low);
  for (int n = 0; n < 100; ++n) {
    const double middle = 0.5 * (low + high);
    (rise_before_last(rod, heat, welds, std::exp(middle)) > allowed ? low : high) = middle;
  }
  return std::exp(high);
}

double spreading_time(double distance, double diffusivity) {
  require(distance > 0 && diffusivity > 0, "distance and diffusivity must be positive");
  return distance * distance / (4 * diffusivity);
}

}  // namespace tabmelt
