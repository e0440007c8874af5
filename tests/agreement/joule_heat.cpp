// Exact solutions with current: rods, and constrictions that obey Wiedemann and Franz.
#include <cmath>
#include <numbers>

#include "solver/solve.h"
#include "tests/agreement/row.h"
#include "tests/support/joule_heating.h"
#include "tests/verification/neck.h"
#include "tests/verification/weld_problem.h"

namespace tabmelt::agreement {
namespace {

constexpr double T0 = 300;

MaterialPtr rod_metal() {
  auto m = std::make_shared<Material>();
  m->name = "rod metal";
  m->density = 8900;
  m->specific_heat = Curve::constant(500);
  m->thermal_conductivity = Curve::constant(80);
  m->resistivity = {{T0, 4300}, {8e-8, 8e-8 * (1 + 5e-3 * 4000)}};
  return m;
}

double on_current(double time) {
  const double radius = 0.5e-3, current = 2e9 * std::numbers::pi * radius * radius;
  Problem p = lone_rod(rod_metal(), radius, 4e-3);
  p.circuit.source = circuit::TableCurrent{{0, 1}, {current, current}};
  p.numerics.end_time = time;
  p.numerics.resolution = 0.5;
  p.numerics.step_tolerance = 1e-4;
  return solve(p).history.back().probes[0] - T0;
}

}  // namespace

Section exact_joule_heat() {
  Section s{
      "Exact: heat of a current",
      "The rod is run through `solve`, as a weld is; the constriction (a neck between a rod and "
      "a disc)\non the solver's operators, 16 cells over its radius.",
      {}};
  const std::string holm = "Kohlrausch, Ann. Phys. 306 (1900) 132; Holm (1967)";
  const neck::Solution alike = neck::constriction(80, 80, 16),
                       unlike = neck::constriction(80, 20, 16);
  const double current = exact::wiedemann_franz_current(80, alike.gamma, neck::V, neck::T0);
  s.rows = {
      {"insulated rod, 2e9 A/m², rise at 2 ms [K]", "closed form, resistivity straight in T",
       210.517471765, on_current(2e-3), 1e-3},
      {"... at 5 ms [K]", "closed form, resistivity straight in T", 1007.21360291, on_current(5e-3),
       1e-3},
      {"constriction at 0.2 V, hottest [K]", holm, 706.634298663, alike.hottest, 1e-3},
      {"... of unlike metals, hottest [K]", holm, 706.634298663, unlike.hottest, 1e-3},
      {"... hottest plus the worst cell's distance from T² - T0² = φ(V - φ)/L [K]", holm,
       706.634298663, 706.634298663 + alike.worst, 1e-3},
      {"... current [A]", holm + ", shape factor of the same grid", current, alike.current, 1e-3}};
  return s;
}

}  // namespace tabmelt::agreement
