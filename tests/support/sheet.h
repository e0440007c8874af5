// Current in thin sheets of resistivity rho [ohm m] and thickness t [m]; spots of radius a,
// spacing d between centres.
//
// Spot through the whole thickness, rim grounded at R:  rho ln(R/a)/(2 pi t)
// Source: Smythe, Static and Dynamic Electricity.
//
// Spot of even current density on the top face, bottom insulated, rim grounded at R, mean
// potential of the spot, mu = n pi/t, kappa = 1/rho:
//   kappa R12 = (ln(R/a) + 1/4)/(2 pi t)
//     + Sum_n (2/(pi a^2 t mu^2)) [1 - 2 I1(mu a) (K1(mu a) + I1(mu a) K0(mu R)/I0(mu R))]
// Source: separation of variables in cosines across the thickness.
//
// Two spots through the whole thickness, current in at one and out at the other, infinite sheet:
//   R12 = rho acosh(d/(2a))/(pi t)
// Source: Smythe.
//
// One spot with a grounded rim at R_eff stands for two when 2 rho ln(R_eff/a)/(2 pi t) = R12:
//   infinite sheet                                  R_eff = d/2 + sqrt(d^2/4 - a^2)
//   strip of width w, insulated edges, spots on its centre line, a much less than d and w
//     one behind the other along the strip          R_eff = (w/pi) sinh(pi d/w)
//     side by side across it, symmetric             R_eff = (2 w/pi) tan(pi d/(2 w)),  d < w
//   disk of radius b, insulated rim, spots at +-d/2 on a diameter, a much less than b
//                                                   R_eff = d (4 b^2 + d^2)/(4 b^2 - d^2),  d < 2b
// Source: method of images (Smythe); the rows of images sum to sinh and tan by their product
// formulas, the disk needs one image of each spot at b^2/(d/2).
//
// A strip (sheet resistance r1 = rho1/t1) over a can (r2), joined only at the two spots with the
// contact resistance Rc each, electrodes on the strip at the same spots, X = acosh(d/(2a))/pi:
//   Rs = r1 X,  Rp = 2 Rc + r2 X,  R12 = Rs Rp/(Rs + Rp),  strip's share of current Rp/(Rs + Rp)
// Source: the two-spot formula above, once per sheet, in parallel.
#pragma once

namespace tabmelt::exact::sheet {

// Resistances [ohm], lengths [m].
double through_spot(double rho, double t, double a, double R);
double surface_spot(double rho, double t, double a, double R);
double two_spots(double rho, double t, double a, double d);

// Radius of the equivalent grounded rim [m].
double rim_of_wide_sheet(double d, double a);
double rim_along_strip(double d, double w);
double rim_across_strip(double d, double w);
double rim_of_disk(double d, double b);

struct StripOverCan {
  double strip = 0;    // r1 [ohm per square]
  double can = 0;      // r2 [ohm per square]
  double contact = 0;  // Rc [ohm]
  double a = 0;        // spot radius [m]
  double d = 0;        // spacing [m]

  double resistance() const;   // R12 [ohm]
  double strip_share() const;  // [1]
};

}  // namespace tabmelt::exact::sheet
