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

double linear(double channel) {
  return channel > 0.04045 ? std::pow((channel + 0.055) / 1.055, 2.4) : channel / 12.92;
}

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

// Points at equal colour distance along the polyline through `knots`, both ends included.
std::vector<Colour> stepped(const std::vector<Lab>& knots, std::size_t bands) {
  std::vector<double> along{0.0};
  for (std::size_t k = 1; k < knots.size(); ++k) {
    along.push_back(along.back() + distance(knots[k - 1], knots[k]));
  }
  std::vector<Colour> colours;
  for (std::size_t band = 0; band < bands; ++band) {
    const double share = bands > 1 ? static_cast<double>(band) / static_cast<double>(bands - 1) : 0;
    const double s = share * along.back();
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

}  // namespace

Colour faded(Colour colour, double opacity) {
  colour.opacity = opacity;
  return colour;
}

double lightness(const Colour& colour) {
  const double y =
      0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
  return y > dark ? 116 * std::cbrt(y) - 16 : 903.3 * y;
}

Colour paler(const Colour& colour, double share) {
  return {std::lerp(colour.red, 1.0, share), std::lerp(colour.green, 1.0, share),
          std::lerp(colour.blue, 1.0, share), colour.opacity};
}

Colour deeper(const Colour& colour, double share) {
  return {(1 - share) * colour.red, (1 - share) * colour.green, (1 - share) * colour.blue,
          colour.opacity};
}

std::vector<Colour> heat_ramp(std::size_t bands) {
  static const std::vector<Lab> knots{{19, 10, -26}, {30, 30, -40}, {42, 52, -22}, {53, 60, 12},
                                      {64, 46, 46},  {77, 16, 66},  {90, -6, 56},  {98, -3, 14}};
  return stepped(knots, bands);
}

std::vector<Colour> potential_ramp(std::size_t bands) {
  static const std::vector<Lab> knots{
      {24, -4, -22}, {42, -16, -18}, {62, -30, 2}, {80, -26, 24}, {95, -8, 22}};
  return stepped(knots, bands);
}

}  // namespace tabmelt::drawing
