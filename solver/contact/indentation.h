// Over which face a rounded tip touches a sheet.
//
//   F = pi b^2 p(b),    b >= b_H = (3 F R / (4 E*))^(1/3)
//
//   p(b) = min over both sides and all depths d <= b of  H(d, b) max(1, (1 + 2 b/(3 sqrt(3) d))/3)
//
//   F     force [N]                     b    radius of the touching face [m]
//   R     radius of the tip's face [m]  E*   1/E* = (1 - nu^2)(1/E_1 + 1/E_2) [Pa]
//   H     hardness [Pa] at the strain rate of a weld, mean over the disc of radius b and from the
//         face down to the depth d: what a zone of that depth bears before it yields
//
// The face sinks in until no zone beneath it yields any more. A zone as deep as the face is wide
// flows like a half-space: mean pressure H, three times the flow stress (Tabor, The Hardness of
// Metals (1951)). A thin soft layer between the tip and stiffer metal cannot flow aside freely:
// between rough plates it bears (1 + 2 b/(3 sqrt(3) d)) times the flow stress H/3 (Hill, The
// Mathematical Theory of Plasticity (1950), compressed disc; from memory). Below yield the face is
// Hertz's (Johnson, Contact Mechanics (1985), eq. 4.22 and 4.24).
//
// Limits: cold and hard everywhere, b^2 = F/(pi H) (Meyer); R without bound, the whole tip. pi b^2
// p never falls with b, so there is one b for each force, it grows with the force and with every
// degree that any metal beneath the face gets hotter.
#pragma once

#include <vector>

namespace tabmelt {

// One side of the face, in rows parallel to it.
struct YieldingSide {
  std::vector<double> depth;  // [m] far edge of each row, from the face on
  // Per row: force [N] that its hardness bears over the disc out to each column edge.
  std::vector<std::vector<double>> load;
};

// [Pa] least mean pressure that makes some zone yield; column edges r [m] as in `load`.
double least_pressure(const std::vector<YieldingSide>&, const std::vector<double>& r_edges,
                      double radius);

// [m] b of the yielding zone alone, at most `largest`.
double yielding_radius(const std::vector<YieldingSide>&, const std::vector<double>& r_edges,
                       double force, double largest);

// [m] Hertz; both moduli of elasticity [Pa], 0: rigid. Poisson's ratio 0.3, as most metals have.
double hertz_radius(double force, double face_radius, double modulus_1, double modulus_2);

// [m] b^2 = F/(pi H): one face of one hardness (Meyer; Holm, Electric Contacts, plastic contact).
double indentation_radius(double force, double hardness);

}  // namespace tabmelt
