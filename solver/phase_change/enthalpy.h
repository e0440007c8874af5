// Volumetric enthalpy of a material and its inverse.
//
//   H(T) = rho * integral from T_ref of c(T') dT'        [J/m^3],  H(T_ref) = 0
//
//   c   solid specific heat; between solidus T_s and liquidus T_l
//       c = L/(T_l - T_s) + straight blend from c_solid(T_s) to c_liquid(T_l);
//       liquid specific heat above; latent heats of solid transformations spread evenly over
//       their range; heat of vaporisation spread over [T_b, T_b + boiling_width]   [J/kg/K]
//   rho cold density: the mass of a cell never changes                              [kg/m^3]
//
// c is piecewise linear, so H is piecewise quadratic and inverted in closed form; H is strictly
// increasing. A solidus equal to the liquidus is widened by +-half of narrowest_melting, since a
// jump of H at one temperature has no slope to iterate with.
// Alexiades & Solomon, Mathematical Modeling of Melting and Freezing Processes (1993), ch. 4.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "solver/material/material.h"

namespace tabmelt {

class Enthalpy {
 public:
  static constexpr double reference_temperature = 293.15;  // [K]
  static constexpr double narrowest_melting = 4.0;         // [K]
  static constexpr double boiling_width = 20.0;            // [K]

  explicit Enthalpy(const Material&);

  double at(double T) const;             // [J/m^3]
  double temperature(double H) const;    // [K]
  double heat_capacity(double H) const;  // dH/dT at this H [J/m^3/K]
  // T and dH/dT together.
  void temperature_and_capacity(double H, double& T, double& capacity) const;
  // The same for many cells; the inner loop of the heat step. capacity may be null.
  void temperatures(std::size_t count, const double* H, double* T, double* capacity) const;
  double liquid_fraction(double T) const;  // with the widened melting range
  double vapour_fraction(double H) const;  // [1] share of the mass boiled
  // H [J/m^3] of full vaporisation; infinite without boiling.
  double all_boiled() const { return all_boiled_; }

  bool melts() const { return melts_; }
  double solidus() const { return solidus_; }    // [K] as widened
  double liquidus() const { return liquidus_; }  // [K]
  double half_molten() const { return 0.5 * (solidus_ + liquidus_); }
  double boiling() const { return boiling_; }  // [K] infinite if it has none

 private:
  struct Segment {
    double T0, H0, c0, slope;  // c = c0 + slope (T - T0), per volume
  };
  std::size_t segment_of_enthalpy(double H) const;
  template <std::size_t count>
  static void within(const Segment&, const double* H, double* T, double* capacity);

  std::vector<Segment> segments_;
  std::vector<double> start_H_;  // H0 of each segment, for the search
  // First segment that may hold an enthalpy; a bucket wide enough to be cut by few segments.
  std::vector<std::uint32_t> bucket_;
  double bucket_start_ = 0, per_bucket_ = 1;  // [J/m^3], [m^3/J]
  bool melts_ = false;
  double solidus_ = 0, liquidus_ = 0, boiling_ = 0;
  double boiling_H_ = 0, vapour_heat_ = 0, all_boiled_ = 0;
};

}  // namespace tabmelt
