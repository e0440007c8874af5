// Conductors heated by their own current.
//
// Adiabatic, resistivity rho_e = rho_e0 (1 + beta th), th = T - T0 the rise:
//   current density J:  th = (exp(t/tau) - 1)/beta,  tau = rho c/(rho_e0 beta J^2)
//                       time to th_m: tau ln(1 + beta th_m); then melting takes
//                       rho L/(J^2 rho_e(th_m)); the action J^2 t does not depend on J
//   field E:            th + beta th^2/2 = E^2 t/(rho_e0 rho c)
//
// Capacitor C at V0 discharged through an adiabatic rod of cold resistance R0 and heat capacity
// mc, nothing else in the loop, K = beta C/(2 mc):
//   t = R0 C [(1 + K V0^2) ln(V0/V) - K (V0^2 - V^2)/2],  th = C (V0^2 - V^2)/(2 mc)
// (from dV/dt = -V/(R C) with R = R0 (1 + beta th)).
//
// Steady rod 0 < x < l, side insulated, ends at T0, constant k and rho_e, voltage V:
//   T = T0 + V^2 x (l - x)/(2 k rho_e l^2)
// Source: Carslaw & Jaeger, 2nd ed. (1959), section 4.10 (number from memory).
//
// Any shape of any metals that obey k rho_e = L0 T (Wiedemann-Franz), ends at potentials 0 and V
// and both at T0, every other surface insulated for heat and current; phi the potential:
//   T^2 - T0^2 = phi (V - phi)/L0,   peak: T^2 - T0^2 = V^2/(4 L0)
// With constant k throughout, Gamma = R_cold/rho_e the shape factor [1/m]:
//   I = (2 k/(sqrt(L0) Gamma)) atan(V/(2 sqrt(L0) T0))
// Source: Kohlrausch, Ann. Phys. 306 (1900) 132; Holm, Electric Contacts, 4th ed. (1967), on the
// psi-theta relation; the current follows by integrating dphi/(rho_e) along the flow.
#pragma once

namespace tabmelt::exact {

struct AdiabaticRod {
  double density = 0;        // rho [kg/m^3]
  double specific_heat = 0;  // c [J/kg/K]
  double resistivity = 0;    // rho_e0 [ohm m]
  double beta = 0;           // [1/K]

  double rise_at_current(double J, double t) const;            // [K]; J [A/m^2]
  double time_to_rise(double J, double rise) const;            // [s]
  double action_to_rise(double rise) const;                    // J^2 t [A^2 s/m^4]
  double melting_time(double J, double rise, double L) const;  // [s]; L [J/kg]
  double rise_at_field(double E, double t) const;              // [K]; E [V/m]
};

struct CapacitorFiredRod {
  double capacitance = 0;    // C [F]
  double voltage = 0;        // V0 [V]
  double resistance = 0;     // R0 [ohm] cold
  double beta = 0;           // [1/K]
  double heat_capacity = 0;  // mc [J/K]

  double time_at_voltage(double V) const;  // [s]; 0 < V <= V0
  double voltage_at_time(double t) const;  // [V]
  double rise_at_voltage(double V) const;  // [K]
};

struct SteadyRod {
  double conductivity = 0;  // k [W/m/K]
  double resistivity = 0;   // rho_e [ohm m]
  double length = 0;        // l [m]
  double voltage = 0;       // V [V]
  double end = 0;           // T0 [K]

  double temperature(double x) const;  // [K]
};

// [K]; phi, V [V], T0 [K]
double kohlrausch_temperature(double T0, double V, double phi);
double kohlrausch_peak(double T0, double V);
// [A]; k [W/m/K], Gamma [1/m]
double wiedemann_franz_current(double k, double Gamma, double V, double T0);

}  // namespace tabmelt::exact
