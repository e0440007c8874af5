// A manufactured solution of axisymmetric heat conduction with k(T), on 0 < r < R, 0 < z < H:
//
//   rho c d(th)/dt = div(k grad th) + S,   k = k0 (1 + b th),   rho c constant
//   th = A exp(-t/tau) cos(pi r/(3R)) cos(pi z/(3H) + 0.3)
//
// makes   S = -rho c th/tau - k0 [(1 + b th) Lap(th) + b |grad th|^2],
//         Lap(th) = th_rr + th_r/r + th_zz,  th_r/r -> th_rr on the axis.
// th_r = 0 on the axis, so the axis condition holds exactly. steady_source leaves out the
// storage term: the balance of the field frozen at the given time.
//
// Source: the method of Roache, J. Fluids Eng. 124 (2002) 4; the field was made up for these tests.
#pragma once

namespace tabmelt::exact {

struct ManufacturedConduction {
  double radius = 0;         // R [m]
  double height = 0;         // H [m]
  double amplitude = 0;      // A [K]
  double decay = 0;          // tau [s]
  double conductivity = 0;   // k0 [W/m/K]
  double slope = 0;          // b [1/K]
  double heat_capacity = 0;  // rho c [J/m^3/K]

  double theta(double r, double z, double t) const;          // [K]
  double source(double r, double z, double t) const;         // S [W/m^3]
  double steady_source(double r, double z, double t) const;  // [W/m^3]
  double flux_r(double r, double z, double t) const;         // -k d(th)/dr [W/m^2]
  double flux_z(double r, double z, double t) const;         // -k d(th)/dz [W/m^2]
};

}  // namespace tabmelt::exact
