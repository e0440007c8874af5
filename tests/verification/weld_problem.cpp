#include "tests/verification/weld_problem.h"

#include <algorithm>

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

Problem three_code_problem() {
  Problem p;
  p.name = "three-code benchmark";
  const double tip = 0.75e-3, rim = 4e-3;
  p.electrode = {conductor(390, 8960, 385, 1.72e-8), tip, tip, 0, 3e-3, false};
  p.top().material = conductor(90, 8908, 445, 7e-8);
  p.top().thickness = 0.15e-3;
  p.top().rim_radius = p.top().radius = rim;
  p.base().material = conductor(60, 7850, 480, 1.4e-7);
  p.base().thickness = 0.3e-3;
  p.base().rim_radius = p.base().radius = rim;
  p.under_tip().fixed.emplace();
  p.joint(0).fixed.emplace();
  p.under_tip().radius = p.joint(0).radius = tip;
  p.under_tip().fixed->area_resistance = 2e-9;
  p.under_tip().fixed->area_conductance = 1e5;
  p.joint(0).fixed->area_resistance = 8e-9;
  p.joint(0).fixed->area_conductance = 5e4;
  p.arrangement.spots = 1;
  p.pressing.force = 20;
  p.circuit.source = circuit::ExponentialCurrent{600, 1.5e-3};
  p.numerics.end_time = 5e-3;
  p.probes = {{"strip under the rod", "strip", 0, 0.15e-3},
              {"strip on the can", "strip", 0, 0},
              {"can under the strip", "can", 0, 0},
              {"inner wall", "can", 0, -0.3e-3}};
  return p;
}

namespace {

template <typename Get>
std::vector<double> column(const Result& r, Get get) {
  std::vector<double> all;
  for (const StepRecord& s : r.history) all.push_back(get(s));
  return all;
}

}  // namespace

ProbeCurve::ProbeCurve(const Result& r, std::size_t k)
    : last_(r.history.back().time),
      curve_(column(r, [](const StepRecord& s) { return s.time; }),
             column(r, [k](const StepRecord& s) { return s.probes[k]; })) {}

double ProbeCurve::operator()(double time) const { return curve_(std::min(time, last_)); }

}  // namespace tabmelt
