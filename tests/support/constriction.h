// Constriction (spreading) resistances of a disk of radius a, one side of a contact; kappa the
// electrical conductivity [S/m]. "Uniform flux": the current density is even over the disk and
// the resistance is taken with the mean potential of the disk.
//
//   half-space    equipotential 1/(4 kappa a); uniform flux 8/(3 pi^2 kappa a); uniform flux with
//                 the potential at the centre 1/(pi kappa a)
//   plate of thickness t, far face grounded, s = t/a
//     uniform flux   kappa a R = (2/pi) Int_0^inf J1(x)^2 tanh(x s) dx/x^2
//     equipotential  R = 1/(2 pi kappa Int_0^a f ds), where f (unit potential) solves
//                    f(s) - (1/pi) Int_0^a f(u) [G(s - u) + G(s + u)] du = 2/pi,
//                    G(y) = (1/t) Int_0^inf cos(x y/(2t)) dx/(exp(x) + 1)
//   end of a cylinder of radius b, length l, far end grounded, side insulated, eps = a/b,
//   z_n the zeros of J1
//     uniform flux   R = l/(kappa pi b^2)
//                      + (4/(pi kappa a eps)) Sum_n J1(z_n eps)^2 tanh(z_n l/b)/(z_n^3 J0(z_n)^2)
//     equipotential, l > b:  R = l/(kappa pi b^2) + psi/(4 kappa a),
//                    psi = 1 - 1.40978 eps + 0.34406 eps^3 + 0.0435 eps^5 + 0.02271 eps^7,
//                    a fit good to 1e-4 in psi for eps <= 0.5
//   two half-spaces that touch over the disk with conductance g per area, c = 1/kappa_1 +
//   1/kappa_2:
//     j = Sum_n a_n P_n(1 - 2 r^2/a^2) solves (a c K + D/g) a_n = V/2 (1, 0, 0, ...),
//     D_nn = 1/(4 n + 2),  K_mn = (-1)^(m-n)/(4 pi (1/4 - (m-n)^2)(m+n+1/2)(m+n+3/2)),
//     I = pi a^2 a_0, heat of the contact 2 pi a^2 Sum_n D_nn a_n^2/g
//
// Source: half-space: Newman, J. Electrochem. Soc. 113 (1966) 501; Holm, Electric Contacts;
// Carslaw & Jaeger, 2nd ed. (1959), section 10.5 (number from memory). Plate and cylinder:
// separation of variables with the Hankel transform and the Dini series; the equation for f is the
// Abel transform of the dual integral equations (Sneddon, Mixed Boundary Value Problems in
// Potential Theory, 1966). The fit: Negus & Yovanovich; its coefficients are from memory and
// checked here against independent evaluation (spectral Galerkin against a Fredholm equation).
// Two half-spaces: Galerkin's method with Int_0^1 J0(k r) P_n(1 - 2 r^2) r dr = J_{2n+1}(k)/k and
// the Weber-Schafheitlin integral of J_{2m+1} J_{2n+1}/k^2; converges like n^-4.
#pragma once

namespace tabmelt::exact::constriction {

// All results in ohm; kappa [S/m], lengths in m.
double half_space_equipotential(double kappa, double a);
double half_space_uniform_flux(double kappa, double a);
double half_space_uniform_flux_centre(double kappa, double a);

double plate_uniform_flux(double kappa, double a, double t);
double plate_equipotential(double kappa, double a, double t);

double cylinder_uniform_flux(double kappa, double a, double b, double l);
double cylinder_equipotential(double kappa, double a, double b, double l);

struct FilmDisc {
  double resistance = 0;    // [ohm] from far inside one body to far inside the other
  double contact_heat = 0;  // [W/A^2] of the contact alone
};
FilmDisc half_spaces_with_film(double kappa_1, double kappa_2, double a, double g);

}  // namespace tabmelt::exact::constriction
