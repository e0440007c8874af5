// A body on a grid of its own, heated without any circuit: what the conduction problems share.
//
// Drives the solver's diffusion operator, contact faces and implicit heat step exactly as a weld
// does: conductivities are taken half a step ahead, contact heat is shared by the resistances on
// the two sides.
#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "mesh/axisymmetric_grid.h"
#include "solver/heat_conduction/heat_step.h"
#include "solver/material/material.h"
#include "tests/support/uniform_solid.h"

namespace tabmelt {

class HeatedBody {
 public:
  enum class Side { bottom, top, rim };
  using Source = std::function<void(double time, Field& heat)>;  // adds [W] per cell

  using ContactHeat = std::function<double(double r, double time)>;  // [W/m^2]

  // materials[n] belongs to region n + 1. Uniform start temperature [K].
  HeatedBody(mesh::AxisymmetricGrid grid, std::vector<Material> materials, double start);

  void start_from(const std::function<double(double r, double z)>& temperature);
  // Holds a side at a temperature, the same for all sides, behind a conductance h per area
  // [W/m^2/K] (infinite: the surface itself).
  void hold(Side side, double temperature, double h = INFINITY);
  // Everything above and below a height touches there with h [W/m^2/K]; q [W/m^2] is released.
  void touch(double z, double h, double q = 0);
  // The same with q(r, t); taken in the middle of each step.
  void touch(double z, double h, ContactHeat q);
  // Steps through the moments given [s]; the source is taken in the middle of each step.
  void march(const std::vector<double>& moments, const Source& source = {});

  const mesh::AxisymmetricGrid& grid() const { return grid_; }
  const Field& T() const { return T_; }
  double T_at(std::size_t i, std::size_t j) const {
    return T_[static_cast<Eigen::Index>(grid_.index(i, j))];
  }
  // Heat taken in through the held sides so far [J].
  double heat_taken() const { return -conducted_out_; }
  const Field& H() const { return H_; }
  const Enthalpy& law(std::size_t cell) const { return *laws_[cell]; }
  // Volume-weighted root mean square of T - exact over all cells [K].
  double mean_square_error(const std::function<double(double r, double z)>& exact) const;

 private:
  struct Touching {
    ContactPlane plane;
    double h = 0;
    ContactHeat q;
  };
  struct Held {
    Side side;
    double h;
  };
  void set_operator(const Field& T, double time);
  void set_boundary(const Held& held, const Field& k_r, const Field& k_z);

  mesh::AxisymmetricGrid grid_;
  std::vector<Material> materials_;
  std::vector<std::unique_ptr<Enthalpy>> enthalpies_;
  std::vector<const Enthalpy*> laws_;
  std::vector<Touching> touching_;
  std::vector<Held> held_;
  double held_temperature_ = 0;
  FaceConductances faces_;
  Field contact_heat_, H_, T_, rate_;
  double time_ = 0, conducted_out_ = 0;
};

Material constant_metal(const exact::UniformSolid& solid);
std::vector<double> even_edges(double from, double to, int cells);
// cells + 1 edges from 0 to `to`, each interval `ratio` times the one before.
std::vector<double> geometric_edges(double to, int cells, double ratio);
// end (n/steps)^power: short steps after a sudden start.
std::vector<double> graded_moments(double end, int steps, double power = 2);
// One part over the whole grid.
mesh::AxisymmetricGrid full_cylinder(std::vector<double> r, std::vector<double> z);
// One column of unit area.
mesh::AxisymmetricGrid column(std::vector<double> z);

}  // namespace tabmelt
