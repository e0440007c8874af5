// Melting of a half-space whose wall x = 0 is held at T0 above melting from t = 0 on (Stefan and
// Neumann problems). Both phases have one density rho; nothing flows.
//
// One phase, solid at Tm throughout: front s = 2 lambda sqrt(alpha_l t),
//   sqrt(pi) lambda exp(lambda^2) erf(lambda) = c_l (T0 - Tm)/L
//   T = T0 - (T0 - Tm) erf(x/(2 sqrt(alpha_l t)))/erf(lambda)
//
// Two phases, solid at Ti < Tm, nu = sqrt(alpha_l/alpha_s):
//   exp(-lambda^2)/erf(lambda)
//     - (k_s/k_l) nu ((Tm - Ti)/(T0 - Tm)) exp(-nu^2 lambda^2)/erfc(nu lambda)
//     = lambda L sqrt(pi)/(c_l (T0 - Tm))
//   solid: T = Ti + (Tm - Ti) erfc(x/(2 sqrt(alpha_s t)))/erfc(nu lambda)
//
// Heat taken in at the wall, both cases: Q = 2 k_l (T0 - Tm) sqrt(t)/(sqrt(pi alpha_l)
// erf(lambda)).
//
// Melting range Ts..Tl with the latent heat released evenly over it: in the mush
// c_m = (c_l + c_s)/2 + L/(Tl - Ts) and k_m; three erf profiles in eta = x/sqrt(t) that meet at
// eta_l (T = Tl) and eta_s (T = Ts) with equal fluxes. This, not the sharp front, is what an
// enthalpy method with a melting range solves. Exact only if k is constant in each region.
//
// Source: Carslaw & Jaeger, 2nd ed. (1959), section 11.2 (Neumann) and the three-region
// extension; Alexiades & Solomon, Mathematical Modeling of Melting and Freezing Processes (1993),
// chapter 2 (section and chapter numbers from memory).
#pragma once

namespace tabmelt::exact {

struct MeltingMetal {
  double density = 0;               // rho [kg/m^3]
  double conductivity_liquid = 0;   // k_l [W/m/K]
  double conductivity_solid = 0;    // k_s [W/m/K]
  double specific_heat_liquid = 0;  // c_l [J/kg/K]
  double specific_heat_solid = 0;   // c_s [J/kg/K]
  double latent_heat = 0;           // L [J/kg]

  double diffusivity_liquid() const {
    return conductivity_liquid / (density * specific_heat_liquid);
  }
  double diffusivity_solid() const { return conductivity_solid / (density * specific_heat_solid); }
};

// One or two phases; the solid starts at initial <= melting (equal: the one-phase problem).
// Throws std::domain_error unless initial <= melting < wall.
class SharpFront {
 public:
  SharpFront(const MeltingMetal& metal, double melting, double wall, double initial);  // [K]

  double lambda() const { return lambda_; }      // [1]
  double position(double t) const;               // s [m]
  double temperature(double x, double t) const;  // [K]
  double heat(double t) const;                   // Q [J/m^2]

 private:
  MeltingMetal metal_;
  double melting_, wall_, initial_;
  double lambda_ = 0;
};

// Three regions. Throws std::domain_error unless initial < solidus < liquidus < wall.
class MushyFront {
 public:
  MushyFront(const MeltingMetal& metal, double conductivity_mush, double solidus, double liquidus,
             double wall, double initial);  // [W/m/K], [K]

  double eta_liquidus() const { return eta_l_; }  // x_l/sqrt(t) [m/s^0.5]
  double eta_solidus() const { return eta_s_; }   // x_s/sqrt(t) [m/s^0.5]
  double wall_flux(double t) const;               // [W/m^2]
  double heat(double t) const;                    // [J/m^2], taken in at the wall
  double temperature(double x, double t) const;   // [K]
  // Int f dx [m], f = (T - solidus)/(liquidus - solidus) held in 0..1: melted depth.
  double melted_depth(double t) const;

 private:
  // Where T reaches the solidus if the mush begins at eta_l and takes the liquid's flux there;
  // infinite if it never does.
  double solidus_after(double eta_l) const;
  double flux_at_liquidus(double eta_l) const;  // times sqrt(t)

  MeltingMetal metal_;
  double k_mush_, solidus_, liquidus_, wall_, initial_;
  double alpha_mush_ = 0;  // [m^2/s]
  double eta_l_ = 0, eta_s_ = 0;
};

}  // namespace tabmelt::exact
