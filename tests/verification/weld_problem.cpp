#include "tests/verification/weld_problem.h"

namespace tabmelt {

MaterialPtr conductor(double k, double density, double specific_heat, double resistivity) {
  auto m = std::make_shared<Material>();
  m->name = "conductor";
  m->density = density;
  m->specific_heat = Curve::constant(specific_heat);
  m->thermal_conductivity = Curve::constant(k);
  m->resistivity = Curve::constant(resistivity);
  return m;
}

Problem lone_rod(MaterialPtr metal, double radius, double length) {
  Problem p;
  p.name = "rod";
  p.electrode = {std::move(metal), radius, radius, 0, length, false};
  const MaterialPtr perfect = conductor(100, 8000, 500, 1e-14);
  p.top().material = p.base().material = perfect;
  p.top().thickness = p.base().thickness = 1e-3;
  p.top().rim_radius = p.top().radius = 2 * radius;
  p.base().rim_radius = p.base().radius = 2 * radius;
  for (Contact* c : {&p.under_tip(), &p.joint(0)}) {
    c->radius = radius;
    c->fixed = {.area_resistance = 1e-18, .area_conductance = 1e-6};
  }
  p.arrangement.spots = 1;
  p.pressing.force = 20;
  p.boundary.ambient = 300;
  p.boundary.electrode_end = ThermalEnd::insulated;
  p.probes = {{"top", "electrode", 0, p.top().thickness + length},
              {"middle", "electrode", 0.5 * radius, p.top().thickness + 0.5 * length},
              {"tip", "electrode", radius, p.top().thickness}};
  return p;
}

}  // namespace tabmelt
