#include "solver/circuit/conductors.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <numbers>
#include <stdexcept>

namespace tabmelt::circuit {
namespace {

constexpr double mu0 = 4e-7 * std::numbers::pi;  // [H/m]

struct Size {
  double square_millimetres;  // nominal cross-section
  double class_1_2;           // [ohm/km] at 20 C
  double class_5;             // [ohm/km] at 20 C
};

// IEC 60228:2004, plain copper.
constexpr std::array<Size, 15> sizes{{{0.5, 36.0, 39.0},
                                      {0.75, 24.5, 26.0},
                                      {1.0, 18.1, 19.5},
                                      {1.5, 12.1, 13.3},
                                      {2.5, 7.41, 7.98},
                                      {4.0, 4.61, 4.95},
                                      {6.0, 3.08, 3.30},
                                      {10.0, 1.83, 1.91},
                                      {16.0, 1.15, 1.21},
                                      {25.0, 0.727, 0.780},
                                      {35.0, 0.524, 0.554},
                                      {50.0, 0.387, 0.386},
                                      {70.0, 0.268, 0.272},
                                      {95.0, 0.193, 0.206},
                                      {120.0, 0.153, 0.161}}};

// R*A in ohm mm^2/km.
double resistance_times_area(const Size& size, ConductorClass conductor_class) {
  const double per_kilometre =
      conductor_class == ConductorClass::flexible ? size.class_5 : size.class_1_2;
  return per_kilometre * size.square_millimetres;
}

void require_positive(double value, const char* what) {
  if (!(value > 0) || !std::isfinite(value)) {
    throw std::invalid_argument(std::string(what) + " must be positive");
  }
}

double wire_radius(double cross_section) {
  require_positive(cross_section, "cross-section of a conductor");
  return std::sqrt(cross_section / std::numbers::pi);
}

}  // namespace

double copper_resistance_per_metre(double cross_section, ConductorClass conductor_class) {
  require_positive(cross_section, "cross-section of a conductor");
  const double area = cross_section * 1e6;  // [mm^2]
  const auto upper = std::find_if(sizes.begin(), sizes.end(), [area](const Size& size) {
    return size.square_millimetres >= area;
  });
  double product = 0;
  if (upper == sizes.begin()) {
    product = resistance_times_area(sizes.front(), conductor_class);
  } else if (upper == sizes.end()) {
    product = resistance_times_area(sizes.back(), conductor_class);
  } else {
    const Size& above = *upper;
    const Size& below = *std::prev(upper);
    const double share = std::log(area / below.square_millimetres) /
                         std::log(above.square_millimetres / below.square_millimetres);
    product = std::lerp(resistance_times_area(below, conductor_class),
                        resistance_times_area(above, conductor_class), share);
  }
  return product / area * 1e-3;
}

double lead_resistance_per_metre(const std::string& material, double cross_section,
                                 ConductorClass conductor_class) {
  const double copper = copper_resistance_per_metre(cross_section, conductor_class);
  if (material == "copper") return copper;
  if (material == "aluminium") return copper * (28.264 / 17.241);
  throw std::invalid_argument("no lead resistance is known for " + material +
                              "; give the resistance of the leads");
}

double awg_cross_section(double gauge) {
  const double diameter = 0.127e-3 * std::pow(92.0, (36.0 - gauge) / 39.0);
  return std::numbers::pi / 4 * diameter * diameter;
}

double round_diameter(double cross_section) { return 2 * wire_radius(cross_section); }

double two_wire_inductance(double length, double cross_section, double spacing) {
  require_positive(length, "length of the leads");
  const double a = wire_radius(cross_section);
  if (spacing == 0) spacing = 2 * a;
  // A spacing typed as the rounded diameter may fall short of it by its last digit.
  if (!(spacing >= 2 * a * (1 - 1e-3))) {
    throw std::invalid_argument("axis spacing of the leads is less than their diameter");
  }
  return mu0 / std::numbers::pi * length * (std::log(spacing / a) + 0.25);
}

double rectangular_loop_inductance(double width, double height, double cross_section) {
  const double a = wire_radius(cross_section);
  if (!(width > 2 * a) || !(height > 2 * a)) {
    throw std::invalid_argument("loop is narrower than its wire");
  }
  const double x = width;
  const double y = height;
  return mu0 / std::numbers::pi *
         (x * std::log(2 * x / a) + y * std::log(2 * y / a) + 2 * std::hypot(x, y) -
          x * std::asinh(x / y) - y * std::asinh(y / x) - 2 * (x + y) + (x + y) / 4);
}

}  // namespace tabmelt::circuit
