// One implicit step of the heat balance of every cell, in terms of volumetric enthalpy H [J/m^3]:
//
//   V dH/dt = Q - A T + B T_fixed,     T = T(H)
//
//   V  volume [m^3]     Q  heat released in the cell, constant over the step [W]
//   A  conduction and boundary conductances of diffusion.h [W/K], frozen over the step
//
// Time: the two-stage, stiffly accurate, L-stable diagonally implicit Runge-Kutta method of second
// order with gamma = 1 - 1/sqrt(2) (Alexander, SIAM J. Numer. Anal. 14 (1977) 1006):
//
//   H1 = H0 + gamma dt D(T1),   H2 = H0 + (1 - gamma) dt D(T1) + gamma dt D(T2)
//
// Each stage is solved by Newton's method in the linearised temperature (Swaminathan & Voller,
// Metall. Trans. B 23 (1992) 651); the stage's enthalpy is then recomputed from the converged
// fluxes, so heat is conserved to round-off however far the iteration went.
#pragma once

#include <vector>

#include "solver/finite_volume/diffusion.h"
#include "solver/finite_volume/line_multigrid.h"
#include "solver/phase_change/enthalpy.h"

namespace tabmelt {

struct HeatStepLimits {
  double newton_tolerance = 1e-3;  // [K]
  int newton_limit = 30;
  int linear_limit = 200;
};

struct HeatStepOutcome {
  bool converged = false;
  double conducted_out = 0;  // [J] through fixed-temperature boundaries
  int newton_iterations = 0;
  int linear_iterations = 0;
};

class HeatStep {
 public:
  static constexpr double gamma = 0.29289321881345254;

  // law[cell] gives the enthalpy curve of each cell; null for empty cells.
  HeatStep(const mesh::AxisymmetricGrid&, std::vector<const Enthalpy*> law, HeatStepLimits);

  // Advances H (in: at t, out: at t + dt). rate holds dH/dt [W/m^3] at the start (a guess will do)
  // and returns it at the end. T returns the new temperatures.
  HeatStepOutcome advance(const FaceConductances&, const Field& heat, double fixed_temperature,
                          double dt, Field& H, Field& T, Field& rate);

  // T [K] of each cell; empty cells keep their value.
  void temperatures(const Field& H, Field& T) const;
  const std::vector<const Enthalpy*>& laws() const { return law_; }

 private:
  bool stage(const FaceConductances&, const Field& heat, double fixed_temperature, double gamma_dt,
             const Field& base, Field& H, Field& T, Field& rate, double& flow_out,
             HeatStepOutcome&);

  // Cells in a row of the same material: what is one loop to Enthalpy::temperatures.
  struct Run {
    const Enthalpy* law;
    std::size_t first, count;
  };
  void curves(const Field& H, Field& T, Field* capacity) const;

  std::vector<Run> runs_;
  Field volume_;  // 1 in empty cells, so that nothing divides by zero
  Field filled_;  // [m^3] 0 in empty cells: on coarser grids they share a cell with full ones
  std::vector<const Enthalpy*> law_;
  HeatStepLimits limits_;
  LineMultigrid linear_;
  Field capacity_, diagonal_, residual_, scale_, change_, product_, base_, rate1_, stage_T_, start_,
      stage_H_, checked_;
};

}  // namespace tabmelt
