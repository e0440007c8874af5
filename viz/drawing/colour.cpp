#include "viz/drawing/colour.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace tabmelt::drawing {

namespace {

using Lab = std::array<double, 3>;

double distance(const Lab& p, const Lab& q) {
  return std::hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

// White of D65 and the step between the two branches of the lightness (CIE 15).
constexpr Lab white{0.9505, 1.0, 1.089};
constexpr double dark = 0.008856;

double companded(double light) {
  return light > 0.0031308 ? 1.055 * std::pow(light, 1 / 2.4) - 0.055 : 12.92 * light;
}

Colour srgb(const Lab& lab) {
  const double y = (lab[0] + 16) / 116;
  Lab xyz{lab[1] / 500 + y, y, y - lab[2] / 200};
  for (std::size_t c = 0; c < 3; ++c) {
    const double cube = std::pow(xyz[c], 3);
    xyz[c] = white[c] * (cube > dark ? cube : (xyz[c] - 16.0 / 116) / 7.787);
  }
  const auto channel = [&](double x_share, double y_share, double z_share) {
    return companded(x_share * xyz[0] + y_share * xyz[1] + z_share * xyz[2]);
  };
  Colour colour{channel(3.2406, -1.5372, -0.4986), channel(-0.9689, 1.8758, 0.0415),
                channel(0.0557, -0.2040, 1.0570)};
  // Too bright for the screen: darker, in the same hue.
  const double most = std::max({1.0, colour.red, colour.green, colour.blue});
  for (double* each : {&colour.red, &colour.green, &colour.blue}) {
    *each = std::max(0.0, *each / most);
  }
  return colour;
}

// Points along the polyline through `knots`, both ends included: from one band to the next lies the
// mean of their steps, as a share of all.
std::vector<Colour> stepped(const std::vector<Lab>& knots, const std::vector<double>& steps) {
  std::vector<double> along{0.0};
  for (std::size_t k = 1; k < knots.size(); ++k) {
    along.push_back(along.back() + distance(knots[k - 1], knots[k]));
  }
  std::vector<double> places{0.0};
  for (std::size_t band = 1; band < steps.size(); ++band) {
    places.push_back(places.back() + 0.5 * (steps[band - 1] + steps[band]));
  }
  std::vector<Colour> colours;
  for (const double place : places) {
    const double s = places.size() > 1 ? place / places.back() * along.back() : 0;
    std::size_t k = 1;
    while (k + 1 < knots.size() && along[k] < s) {
      ++k;
    }
    const double t = (s - along[k - 1]) / (along[k] - along[k - 1]);
    Lab lab;
    for (std::size_t c = 0; c < 3; ++c) {
      lab[c] = std::lerp(knots[k - 1][c], knots[k][c], t);
    }
    colours.push_back(srgb(lab));
  }
  return colours;
}

std::vector<double> even(std::size_t bands) { return std::vector<double>(bands, 1.0); }

}  // namespace

Colour faded(Colour colour, double opacity) {
  colour.opacity = opacity;
  return colour;
}

Colour paler(const Colour& colour, double share) {
  return {std::lerp(colour.red, 1.0, share), std::lerp(colour.green, 1.0, share),
          std::lerp(colour.blue, 1.0, share), colour.opacity};
}

Colour deeper(const Colour& colour, double share) {
  return {(1 - share) * colour.red, (1 - share) * colour.green, (1 - share) * colour.blue,
          colour.opacity};
}

std::vector<Colour> heat_ramp(const std::vector<double>& steps) {
  static const std::vector<Lab> knots{{22, 0, -8},  {33, -6, -20}, {43, 0, -6},  {53, 16, 30},
                                      {61, 34, 50}, {74, 34, 26},  {87, 14, 12}, {98, -1, 4}};
  return stepped(knots, steps);
}

std::vector<Colour> heat_ramp(std::size_t bands) { return heat_ramp(even(bands)); }

std::vector<Colour> potential_ramp(std::size_t bands) {
  static const std::vector<Lab> knots{{24, 20, -32}, {48, 32, -36}, {74, 20, -20}, {95, 3, -3}};
  return stepped(knots, even(bands));
}

std::vector<Colour> current_density_ramp(std::size_t bands) {
  static const std::vector<Lab> knots{
      {24, -6, 0}, {42, -26, 10}, {62, -36, 34}, {82, -20, 50}, {96, -6, 18}};
  return stepped(knots, even(bands));
}

std::vector<Colour> liquid_ramp(std::size_t bands) {
  static const std::vector<Lab> knots{{25, 4, -22}, {50, -4, -36}, {76, -12, -20}, {97, -2, -2}};
  return stepped(knots, even(bands));
}

}  // namespace tabmelt::drawing
