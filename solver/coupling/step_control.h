// How long the next step may be.
//
// Each step is also predicted without solving anything, by extrapolating the enthalpy:
//
//   H_p = H + dt/2 ( (2 + w) dH/dt_n - w dH/dt_{n-1} ),   w = dt / dt_{n-1}     (second order)
//
// The difference to the solved step, times c below, estimates the local error of the solved step
// (Gresho, Lee, Sani, in: Recent Advances in Numerical Methods in Fluids 1 (1980) 27: same idea for
// the trapezoidal rule). With the error constants of the two methods,
//   solved    C_s = 0.0404 dt^3 T'''   (Alexander's two-stage method, gamma = 1 - 1/sqrt 2)
//   predicted C_p = (1/6 + 1/(4 w)) dt^3 T'''
//   c = C_s / (C_p - C_s)
// After a switching event there is no history: H_p = H + dt dH/dt, and c = 1 (a safe bound).
//
// The norm is the root-mean-square temperature error relative to the temperature rise, both
// weighted with the heat capacity of the cells:  e = sqrt( sum C (T - T_p)^2 / sum C rise^2 ).
#pragma once

namespace tabmelt {

struct StepControl {
  double tolerance = 2e-3;
  double shortest = 1e-7;  // [s] below this a step is taken whatever its error
  double longest = 0.05;   // [s]

  // Factor that turns |T - T_p| into an error estimate; w is 0 without history.
  static double error_factor(double w);
  bool acceptable(double error, double dt) const;
  // Next step from the error of a step of length dt; order 3 local error with history, else 2.
  double next(double error, double dt, bool history) const;
};

}  // namespace tabmelt
