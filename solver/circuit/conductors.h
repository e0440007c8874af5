// Resistance and inductance of the copper between source and electrodes.
//
// Resistance: largest d.c. resistance at 20 C allowed for plain copper conductors, IEC 60228:2004,
// class 1 and 2 (solid, stranded; table 1 and 2) and class 5 (flexible; table 3), which welding
// leads are made of.
//
// Inductance: non-magnetic round wire, current spread evenly over the cross-section (low
// frequency: the skin depth of copper, 2.1 mm at 1 kHz, is not smaller than the wire radius);
// F. W. Grover, Inductance Calculations (1946).
//
//   a  wire radius [m]     D  axis spacing [m]     l  length one way [m]     mu0 = 4 pi 1e-7 H/m
//
//   two parallel wires, l >> D     L = (mu0/pi) l (ln(D/a) + 1/4)
//   rectangle x by y, both >> a    L = (mu0/pi) [x ln(2x/a) + y ln(2y/a) + 2 sqrt(x^2 + y^2)
//                                       - x asinh(x/y) - y asinh(y/x) - 2(x + y) + (x + y)/4]
//
// The two-wire form needs no correction for close wires: the geometric mean distance of two
// separate discs is the distance of their centres.
//
// Every function throws std::invalid_argument when a length or an area is not positive, when two
// wires would overlap (D < 2 a) or when a loop is narrower than its wire.
#pragma once

#include <string>

namespace tabmelt::circuit {

enum class ConductorClass { solid_or_stranded, flexible };  // IEC 60228 class 1 and 2; class 5

// [ohm/m] at 20 C. At the nominal sizes (0.5 to 120 mm^2) the table's value; between them R*A is
// interpolated linearly in ln A; beyond them R*A of the last size is kept.
double copper_resistance_per_metre(double cross_section, ConductorClass conductor_class);
// As above, either class, for "copper" or "aluminium" (61 % of copper's conductivity: 17.241
// against 28.264 nohm m, IEC 60028 and IEC 60889). Throws std::invalid_argument for any other
// material.
double lead_resistance_per_metre(const std::string& material, double cross_section,
                                 ConductorClass conductor_class = ConductorClass::flexible);

// Cross-section [m^2] of a solid wire of this American wire gauge; 0 for 1/0, -1 for 2/0, ...
// diameter = 0.127 mm * 92^((36 - gauge)/39), ASTM B258.
double awg_cross_section(double gauge);

// Diameter [m] of a round wire of this cross-section.
double round_diameter(double cross_section);

// All [H]. A spacing of 0 means touching (D = 2 a).
double two_wire_inductance(double length, double cross_section, double spacing);
double rectangular_loop_inductance(double width, double height, double cross_section);

}  // namespace tabmelt::circuit
