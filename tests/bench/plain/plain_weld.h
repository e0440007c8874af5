// The whole weld once more, as plainly as it can be written: every matrix put together entry by
// entry, every system solved directly, every property looked up afresh, nothing kept between steps.
// Same finite volumes and the same two-stage time step as the solver, none of its code for them:
// slow, easy to read, and the judge of the fast path.
//
//   current   sum_f G_f (phi_c - phi_n) = b_c                          sparse L D L^T
//   heat      V (H - base) / (gamma dt) = Q - A T(H)   by Newton       sparse L D L^T each time
//
// Covers what needs no contact model: both contacts `fixed`, a prescribed current, two sheets
// grounded at their rims, the electrode's end at ambient temperature, all else insulated. Throws
// std::invalid_argument for anything else.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "solver/circuit/loop.h"
#include "solver/coupling/weld_model.h"

namespace tabmelt::bench {

class PlainWeld {
 public:
  explicit PlainWeld(const Problem&);
  void step(double dt);

  double time() const { return loop_state_.time; }
  double resistance() const { return resistance_; }  // [ohm] of the last step
  double energy_in() const { return energy_in_; }    // [J]
  double energy_stored() const;                      // [J]
  double energy_out() const { return energy_out_; }  // [J] through the electrode's end
  double peak_temperature() const;                   // [K] hottest cell
  const mesh::AxisymmetricGrid& grid() const { return model_.grid; }

 private:
  struct Face {
    Eigen::Index a, b;  // lower or inner cell, upper or outer cell
    double to_a, to_b;  // [K/W or ohm] from the face to each cell's centre
    double contact;     // [K/W or ohm] of the touching surfaces, 0 within a body
    int plane;          // number of the contact plane, -1 within a body
    double conductance() const { return 1 / (to_a + contact + to_b); }
  };
  // Faces between cells of non-zero conductivity; g is per area of each contact plane.
  std::vector<Face> faces(const Eigen::VectorXd& k_radial, const Eigen::VectorXd& k_axial,
                          std::size_t first_row, const std::vector<double>& g) const;
  // Where the contact of a plane ends, from the metal's conductivity about it.
  EdgeShare edge(std::size_t plane, const Eigen::VectorXd& k, double g) const;
  void solve_current(const Eigen::VectorXd& T, const std::vector<Face>& thermal);
  bool stage(const std::vector<Face>&, const Eigen::VectorXd& boundary, const Eigen::VectorXd& heat,
             double gamma_dt, const Eigen::VectorXd& base, Eigen::VectorXd& H,
             Eigen::VectorXd& rate, double& out) const;
  Eigen::VectorXd temperatures(const Eigen::VectorXd& H) const;
  bool empty(Eigen::Index cell) const;

  Problem problem_;
  WeldModel model_;
  circuit::Loop loop_;
  circuit::LoopState loop_state_;
  Eigen::VectorXd H_, rate_, heat_;
  Eigen::VectorXd heat_per_square_;  // [W/A^2]
  double resistance_ = 0, energy_in_ = 0, energy_out_ = 0;
  bool started_ = false;
};

}  // namespace tabmelt::bench
