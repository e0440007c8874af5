#include "viz/palette.h"

#include <vtkMath.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace tabmelt {

namespace {

using Lab = std::array<double, 3>;

double distance(const Lab& p, const Lab& q) {
  return std::hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

Colour srgb(const Lab& lab) {
  Colour colour;
  vtkMath::LabToRGB(lab[0], lab[1], lab[2], &colour.red, &colour.green, &colour.blue);
  for (double* channel : {&colour.red, &colour.green, &colour.blue}) {
    *channel = std::clamp(*channel, 0.0, 1.0);
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
  double l = 0, a = 0, b = 0;
  vtkMath::RGBToLab(colour.red, colour.green, colour.blue, &l, &a, &b);
  return l;
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

}  // namespace tabmelt
