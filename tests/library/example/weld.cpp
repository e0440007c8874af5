// A 0.15 mm nickel strip on a wall of 0.3 mm, 3400 A that die away in milliseconds: what nugget?
#include <cstdio>

#include "solver/solve.h"
#include "solver/verdict/verdict.h"

int main() {
  using namespace tabmelt;
  Material nickel, copper;  // round figures, SI units; curves over temperature
  nickel.density = copper.density = 8900;
  nickel.specific_heat = copper.specific_heat = {{293, 800, 1700}, {440, 529, 655}};
  nickel.thermal_conductivity = {{293, 673, 1700}, {70, 55, 77}};
  nickel.resistivity = {{293, 673, 1700}, {9.6e-8, 3.3e-7, 6.1e-7}};
  nickel.melting = Melting{1708, 1719, 298e3};
  copper.thermal_conductivity = Curve::constant(350);
  copper.resistivity = {{293, 1300}, {1.8e-8, 9e-8}};
  const MaterialPtr strip = std::make_shared<Material>(nickel);

  Problem weld;
  weld.electrode = {std::make_shared<Material>(copper), 0.6e-3, 1.5e-3, 0.5, 6e-3};
  weld.sheets = {{"strip", strip, 0.15e-3, 4e-3, 4e-3}, {"wall", strip, 0.3e-3, 4e-3, 4e-3}};
  for (Contact& contact : weld.contacts) contact.radius = 0.6e-3;
  weld.under_tip().fixed = FixedContact{5e-11, 1e6};
  weld.joint(0).fixed = FixedContact{1e-9, 1e5};
  weld.arrangement.spots = 1;
  weld.pressing.force = 20;
  weld.circuit.source = circuit::ExponentialCurrent{3400, 8e-3};
  const Verdict verdict = judge(weld, solve(weld));
  std::printf("nugget %.2f mm, %s\n", 1e3 * verdict.nugget_diameter,
              words(verdict.leading).c_str());
}
