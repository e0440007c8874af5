#include "solver/circuit/conductors.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

namespace tabmelt::circuit {
namespace {

double disc(double radius) { return std::numbers::pi * radius * radius; }

// IEC 60228:2004, tables 1 to 3: largest resistance of plain copper conductors at 20 C.
TEST(Conductors, resistance_at_nominal_sizes_is_that_of_iec_60228) {
  struct Row {
    double square_millimetres, class_1_2, class_5;  // [ohm/km]
  };
  for (const Row& row : std::vector<Row>{{0.5, 36.0, 39.0},
                                         {1.5, 12.1, 13.3},
                                         {2.5, 7.41, 7.98},
                                         {6, 3.08, 3.30},
                                         {16, 1.15, 1.21},
                                         {25, 0.727, 0.780},
                                         {120, 0.153, 0.161}}) {
    const double area = row.square_millimetres * 1e-6;
    EXPECT_NEAR(copper_resistance_per_metre(area, ConductorClass::solid_or_stranded),
                row.class_1_2 * 1e-3, 1e-12 * row.class_1_2);
    EXPECT_NEAR(lead_resistance_per_metre("copper", area), row.class_5 * 1e-3, 1e-12 * row.class_5);
  }
}

// A conductor of the nominal section in annealed copper of 17.241 nohm m (IEC 60028) would have
// less: real conductors of class 5 may be thinner, by 10 to 18 %.
TEST(Conductors, flexible_copper_stays_near_the_resistivity_of_copper_between_sizes) {
  double before = INFINITY;
  for (double area = 0.2e-6; area < 300e-6; area *= 1.07) {
    const double value = lead_resistance_per_metre("copper", area);
    EXPECT_LT(value, before) << area;
    EXPECT_GT(value * area / 17.241e-9, 1.10) << area;
    EXPECT_LT(value * area / 17.241e-9, 1.18) << area;
    before = value;
  }
}

TEST(Conductors, resistance_between_sizes_lies_on_the_line_in_the_logarithm) {
  // Half way between 10 and 16 mm^2 on a logarithmic scale: mean of 19.10 and 19.36 ohm mm^2/km.
  const double area = std::sqrt(10.0 * 16.0) * 1e-6;
  EXPECT_NEAR(lead_resistance_per_metre("copper", area) * area, 19.23e-9, 1e-20);
}

// IEC 60028: conductivity ratio of aluminium, 61 % IACS.
TEST(Conductors, aluminium_has_61_percent_of_the_conductivity) {
  EXPECT_NEAR(
      lead_resistance_per_metre("copper", 16e-6) / lead_resistance_per_metre("aluminium", 16e-6),
      0.61, 1e-4);
  EXPECT_THROW(lead_resistance_per_metre("string", 16e-6), std::invalid_argument);
}

// ASTM B258 tabulates 6530, 16510 and 41740 circular mils for AWG 12, 8 and 4 (1 circular mil =
// pi/4 (25.4 um)^2), rounded to four digits; finer values from its defining formula.
TEST(Conductors, wire_gauges) {
  const double circular_mil = std::numbers::pi / 4 * 25.4e-6 * 25.4e-6;
  EXPECT_NEAR(awg_cross_section(12) / circular_mil, 6530, 5);
  EXPECT_NEAR(awg_cross_section(8) / circular_mil, 16510, 5);
  EXPECT_NEAR(awg_cross_section(4) / circular_mil, 41740, 5);
  EXPECT_NEAR(awg_cross_section(12), 3.30877287611e-6, 1e-16);
  EXPECT_NEAR(awg_cross_section(4), 2.11506394254e-5, 1e-15);
  // 0000 is 0.46 inch by definition.
  EXPECT_NEAR(awg_cross_section(-3), disc(0.23 * 25.4e-3), 1e-15);
}

// Grover, Inductance Calculations (1946); closed form evaluated in 30-digit arithmetic.
TEST(Conductors, two_wire_inductance) {
  EXPECT_NEAR(two_wire_inductance(1, disc(1e-3), 5e-3), 7.43775164974e-7, 1e-17);
  EXPECT_NEAR(two_wire_inductance(1, disc(2e-3), 2e-2), 1.0210340372e-6, 1e-16);
  EXPECT_NEAR(two_wire_inductance(1, disc(2.5e-3), 6e-3), 4.50187494942e-7, 1e-17);
  EXPECT_NEAR(two_wire_inductance(0.3, disc(2.5e-3), 6e-3), 0.3 * 4.50187494942e-7, 1e-17);
}

// The closed form rests on the geometric mean distance of two discs being that of their centres:
// average ln(distance) over both cross-sections by a midpoint rule on rings. The field outside a
// round wire is that of a line, so one disc may be replaced by its centre.
TEST(Conductors, two_wire_inductance_agrees_with_averaging_over_the_cross_section) {
  const double a = 1.5e-3;
  const double spacing = 3.4e-3;
  double mean = 0;
  const int rings = 200, sectors = 200;
  for (int j = 0; j < rings; ++j) {
    const double r = a * std::sqrt((j + 0.5) / rings);  // rings of equal area
    for (int k = 0; k < sectors; ++k) {
      const double angle = 2 * std::numbers::pi * (k + 0.5) / sectors;
      mean += std::log(std::hypot(spacing + r * std::cos(angle), r * std::sin(angle)));
    }
  }
  mean /= rings * sectors;
  const double self = std::log(a) - 0.25;  // of a disc, Grover
  EXPECT_NEAR(two_wire_inductance(1, disc(a), spacing), 4e-7 * (mean - self), 1e-13);
}

TEST(Conductors, touching_wires_stand_one_diameter_apart) {
  EXPECT_DOUBLE_EQ(two_wire_inductance(1, disc(2e-3), 0), 4e-7 * (std::log(2.0) + 0.25));
  EXPECT_THROW(two_wire_inductance(1, disc(2e-3), 3e-3), std::invalid_argument);
  EXPECT_THROW(two_wire_inductance(0, disc(2e-3), 0), std::invalid_argument);
  EXPECT_THROW(two_wire_inductance(1, 0, 0), std::invalid_argument);
}

// Grover (1946), rectangle of round wire; closed forms evaluated in 30-digit arithmetic, also by
// Neumann's double integral along its sides.
TEST(Conductors, loop_inductances) {
  EXPECT_NEAR(rectangular_loop_inductance(0.3, 0.05, disc(2e-3)), 4.58673184956e-7, 1e-17);
  EXPECT_NEAR(rectangular_loop_inductance(0.05, 0.3, disc(2e-3)), 4.58673184956e-7, 1e-17);
  EXPECT_NEAR(rectangular_loop_inductance(0.2, 0.2, disc(2.5e-3)), 6.17282206494e-7, 1e-17);
  EXPECT_THROW(rectangular_loop_inductance(0.3, 0.003, disc(2e-3)), std::invalid_argument);
}

// A long narrow loop is a two-wire line plus its ends.
TEST(Conductors, long_rectangle_tends_to_the_two_wire_line) {
  const double ends = rectangular_loop_inductance(20, 0.02, disc(1e-3)) -
                      rectangular_loop_inductance(10, 0.02, disc(1e-3));
  EXPECT_NEAR(ends, two_wire_inductance(10, disc(1e-3), 0.02), 1e-5 * ends);
}

}  // namespace
}  // namespace tabmelt::circuit
