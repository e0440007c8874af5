// How much of the column in which a contact's edge lies conducts.
//
// A contact covers the disc r <= b of the plane between two rows of cells, and b lies where it
// likes between the faces of the columns. The current crowds at the edge like 1/sqrt(distance): a
// column that conducts in proportion to its covered area leaves an error of first order which
// moves up and down as the edge walks through the cells. Here the edge column conducts what the
// lattice's own solution about an edge says, and the error is of second order and smooth.
//
// Close to the edge the problem is plane. A current density j(x) through the plane makes the
// difference u = Z j between its two sides, and for waves exp(ikx)
//
//   continuum   Z(k) = c/k (1 + epsilon k),      c = 1/s_1 + 1/s_2,   epsilon h = 1/(g c)
//   lattice     Z(k) = sum over sides of (1/s) sqrt(1/y^2 + (dz/2h)^2) + 1/(g h),  y = 2 sin(k/2)
//
//   h, dz  width of the columns and height of the row beside the plane [m]; k in units of 1/h
//   s      conductivity of a side [S/m or W/m/K]     g  conductance of the contact per area
//   (impedance of a semi-infinite ladder of resistors 1/s dz/h with legs s dz/h y^2)
//
// u = Z j where the columns conduct on one side of a face and not on the other is a Wiener-Hopf
// problem: Z is split into factors without zeros on either half of the complex plane,
// ln Z_+(k) = sums over n > 0 of the Fourier coefficients of ln Z. What comes of it far from the
// edge is fixed by the first terms of ln Z_+ at k = 0.
//
// 1. Columns that conduct up to face m look from afar like a contact whose edge lies at
//    e_m = r_m - delta_m. The shift is the difference of the linear terms of the two ln Z_+,
//
//      delta/h = 1/4 + 1/pi { integral 0..pi of ln(y Z/c)/y^2 dk
//                             - integral 0..inf of ln(1 + epsilon k)/k^2 dk },
//
//    1/4 from the factor 1/sqrt(1 - exp(ik)) of 1/y, whose centre of gravity lies a quarter cell
//    inside the last column's. The integrals diverge alike at k = 0.
// 2. What column m meets when it is the next to conduct is the one-step error of linear prediction
//    with the spectrum Z, exp(1/pi integral 0..pi of ln Z dk) (Kolmogorov and Szegoe's theorem).
//    In units of the resistance of its own two half cells and contact,
//
//      kappa = G_0 exp(1/pi integral of ln Z dk),   1/G_0 = sum of dz/(2 h s) + 1/(g h).
//
// 3. All is linear in the current of column m. To second order in h it carries the share
//
//      t = (b^p - e_m^p)/(e_{m+1}^p - e_m^p),   e_m <= b < e_{m+1}
//
//    of what it carries as a whole column, if it conducts as a column of the share
//
//      w = t/(t + kappa (1 - t))
//
//    of its area does, half cells and contact alike. The conductance of the disc goes like b^p:
//    p = 1 where the spreading resistance c b/4 rules, 2 where the contact 1/(pi g) does (both
//    times b^2); between them p = 1 + contact/(contact + spreading).
//
// Perfect contact between like rows: delta = sqrt(h^2 + dz^2)/4, kappa = (h + sqrt(h^2 + dz^2))/dz.
// Poor contact: delta = 0, kappa = 1, w = t: the covered share.
//
// w rises with b from 0 to 1 and passes to the next column there. Since e_m lies inside r_m, a
// column may conduct a little before b reaches it.
//
// The edge column's resistance is (1/w) times that of its parts, and w depends on g. The heat of
// the contact alone is I^2 dR/d ln(1/g) of the whole resistance R, since the currents make the
// heat stationary: beside the heat of the contact element it contains
//
//   I_m^2 / G_0 d(1/w)/d ln(1/g),
//
// which is what the lattice has booked as heat of the metal about the edge.
//
// A rod that touches over its whole flat end, b = R: its corner over the plane below turns the
// current's crowding into distance^(-1/3) and weaker. There the last column has too much resistance
// with w = 1, an error of order 4/3. Nearly all of it is what the lattice makes of the row below,
// where the current density ends in a step; less
//
//   0.17 (1 + (dz/h)^2) h/s_lower   per area
//
// that column's resistance leaves a fifth to a twentieth of the error and makes it of second order,
// with perfect contact as with a poor one. The number is measured, not derived: 0.155 to 0.18 over
// conductivities 1 : 1 and 1 : 4, dz/h from 0.5 to 1, slabs of height R and R/4 and g R c from 1
// up. w then goes on from 1, at b = e_M, to that column's at R.
//
// Where it ends: less than 3 columns over b; columns whose widths change by more than a fifth from
// one to the next.
//
// Wiener-Hopf: Noble, Methods Based on the Wiener-Hopf Technique (1958). Prediction: Grenander &
// Szegoe, Toeplitz Forms (1958), ch. 10. The shares are derived here; both from memory.
#pragma once

#include <cstddef>
#include <limits>
#include <vector>

namespace tabmelt {

// What lies beside the plane about a contact's edge.
struct EdgeSides {
  double k_lower = 0, dz_lower = 0;  // conductivity and height of the row below
  double k_upper = 0, dz_upper = 0;  // of the row above
  double g = 0;                      // conductance of the contact per area
};

struct EdgeShare {
  std::size_t column = 0;  // of the edge: columns inside conduct whole, those outside not at all
  double touching = 0;     // [1] t
  double share = 0;        // [1] w, above 1 at a rod's corner
  double slope = 0;        // [1] d(1/w)/d ln(1/g)
  // A contact without an edge: it ends where its columns do.
  static EdgeShare none() { return {std::numeric_limits<std::size_t>::max(), 0, 0, 0}; }
  // [1] of a column's area.
  double touching_in(std::size_t i) const { return i < column ? 1 : i == column ? touching : 0; }
  double share_in(std::size_t i) const { return i < column ? 1 : i == column ? share : 0; }
};

// Where the first `columns` end, the body above does. Edges of the columns [m], of which the first
// `columns` may conduct; b [m]. The edge column does not unless both sides and g do.
EdgeShare edge_share(const std::vector<double>& r_edges, std::size_t columns, const EdgeSides&,
                     double b);

// A number and its derivative with respect to ln(1/g).
struct WithSlope {
  double value = 0, slope = 0;
};
// delta/h and kappa in columns of width h [m].
WithSlope edge_shift(const EdgeSides&, double h);
WithSlope edge_impedance(const EdgeSides&, double h);

}  // namespace tabmelt
