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
  p.strip.material = p.can.material = perfect;
  p.strip.thickness = p.can.thickness = 1e-3;
  p.strip.rim_radius = p.strip.radius = 2 * radius;
  p.can.rim_radius = p.can.radius = 2 * radius;
  for (Contact* c : {&p.tip_contact, &p.faying_contact}) {
    c->law = ContactLaw::fixed;
    c->radius = radius;
    c->area_resistance = 1e-18;
    c->area_conductance = 1e-6;
  }
  p.arrangement.spots = 1;
  p.pressing.force = 20;
  p.boundary.ambient = 300;
  p.boundary.electrode_end = ThermalEnd::insulated;
  p.probes = {{"top", "electrode", 0, p.strip.thickness + length},
              {"middle", "electrode", 0.5 * radius, p.strip.thickness + 0.5 * length},
              {"tip", "electrode", radius, p.strip.thickness}};
  return p;
}

}  // namespace tabmelt
