// One implicit step of the heat balance of every cell, in terms of volumetric enthalpy H [J/m^3]:
//
//   V dH/dt = Q - A T + B T_fixed,     T = T(H)
//
//   V  volume [m^3]     Q = Q_mean (1 + tilt (t/dt - 1/2))  heat released in the cell [W]
//   A  conduction and boundary conductances of diffusion.h [W/K], frozen over the step
//
// Time: the two-stage, stiffly accurate, L-stable diagonally implicit Runge-Kutta method of second
// order with gamma = 1 - 1/sqrt(2) (Alexander, SIAM J. Numer. Anal. 14 (1977) 1006):
//
//   H1 = H0 + gamma dt D(T1),   H2 = H0 + (1 - gamma) dt D(T1) + gamma dt D(T2)
//
// with Q at t = gamma dt and at dt. Weighted with 1 - gamma and gamma a tilt drops out: a step
// takes Q_mean dt whatever it is.
//
// Each stage is solved by Newton's method in the linearised temperature (Swaminathan & Voller,
// Metall. Trans. B 23 (1992) 651); the stage's enthalpy is then recomputed from the converged
// fluxes, so heat is conserved to round-off however far the iteration went. What is done to each
// cell is done row by row of the grid, so that the numbers in between stay in the cache.
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

  // From H0 and T0 at t to H and T at t + dt. `heat` is Q_mean [W], tilt [1]. rate0 is dH/dt
  // [W/m^3] at the start (a guess will do), rate the one at the end. Results may take the place of
  // what they come from; nothing is written unless the step converges.
  HeatStepOutcome advance(const FaceConductances&, const Field& heat, double tilt,
                          double fixed_temperature, double dt, const Field& H0, const Field& T0,
                          const Field& rate0, Field& H, Field& T, Field& rate);
  // In place.
  HeatStepOutcome advance(const FaceConductances& faces, const Field& heat,
                          double fixed_temperature, double dt, Field& H, Field& T, Field& rate) {
    return advance(faces, heat, 0, fixed_temperature, dt, H, T, rate, H, T, rate);
  }

  // T [K], and dH/dT [J/m^3/K] if asked for, of the cells of one grid row; empty cells keep theirs.
  void temperatures(std::size_t row, const double* H, double* T, double* capacity = nullptr) const;
  // Of all cells.
  void temperatures(const Field& H, Field& T) const;
  const std::vector<const Enthalpy*>& laws() const { return law_; }

 private:
  struct Balance {
    const FaceConductances& faces;
    const Field& heat;
    double share;  // [1] of it, at the stage's time
    double fixed_temperature;
  };
  // H = base + gamma dt rate with rate = D(T(H)), starting from guessed_rate; leaves T in stage_T_.
  // Returns what flows out of the ends [W], not a number if Newton's method fails. H and T, if not
  // null, take the stage's result.
  double stage(const Balance&, double gamma_dt, const Field& base, const Field& guessed_rate,
               Field& rate, Field* H, Field* T, HeatStepOutcome&);
  // T and dH/dT at H where the cells of a row have moved by more than next to nothing from where
  // they were known; elsewhere both stay as they are.
  void moved_temperatures(std::size_t row, const double* change, const double* H, double* T,
                          double* capacity) const;
  // Residual, diagonal and scale of the heat balance about stage_H_ and stage_T_.
  void linearise(const Balance&, double gamma_dt, const Field& base);
  // Takes change_ into stage_T_ and the linearised enthalpy stage_H_, puts T(stage_H_) into
  // checked_. Returns how far the two temperatures are apart at most [K]; not finite if any is not.
  double follow_change();
  // The stage's result from the fluxes at stage_T_. Returns what flows out of the ends [W].
  double conclude(const Balance&, double gamma_dt, const Field& base, Field& rate, Field* H,
                  Field* T);

  // Cells side by side in a grid row of the same material: one loop of Enthalpy::temperatures.
  struct Run {
    const Enthalpy* law;
    std::size_t first, count;  // first: column
  };

  std::size_t nr_, nz_;
  std::vector<Run> runs_;
  std::vector<std::size_t> row_runs_;  // where each row's runs begin, and the end
  Field volume_;                       // 1 in empty cells, so that nothing divides by zero
  Field filled_;  // [m^3] 0 in empty cells: on coarser grids they share a cell with full ones
  std::vector<const Enthalpy*> law_;
  HeatStepLimits limits_;
  LineMultigrid linear_;
  bool faces_taken_ = false;  // linear_ knows the conductances of the step at hand
  Field capacity_, diagonal_, residual_, scale_, change_, base_, rate1_, stage_T_, stage_H_,
      checked_;
  std::vector<double> row_;  // scratch
};

}  // namespace tabmelt
