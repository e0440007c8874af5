// A body with constant properties: what every linear exact solution of heat conduction needs.
#pragma once

#include <cmath>

namespace tabmelt::exact {

struct UniformSolid {
  double conductivity = 0;   // k [W/m/K]
  double density = 0;        // rho [kg/m^3]
  double specific_heat = 0;  // c [J/kg/K]

  // alpha = k/(rho c) [m^2/s]
  double diffusivity() const { return conductivity / (density * specific_heat); }
  // e = sqrt(k rho c) [W s^0.5/m^2/K]
  double effusivity() const { return std::sqrt(conductivity * density * specific_heat); }
};

}  // namespace tabmelt::exact
