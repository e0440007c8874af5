// Hand-made problems and results to judge; invented numbers, no computation behind them.
#pragma once

#include <algorithm>
#include <memory>

#include "solver/verdict/verdict.h"
#include "tests/support/regions.h"

namespace tabmelt::synthetic {

constexpr double celsius(double degrees) { return degrees + 273.15; }

inline MaterialPtr metal(double softens, double melts, double boils, double tensile) {
  auto m = std::make_shared<Material>();
  m->melting = Melting{melts, melts, 3e5};
  m->boiling = Boiling{boils, 6e6};
  m->softening_temperature = softens;
  m->tensile_strength = tensile;
  return m;
}

// 0.15 mm nickel on a 0.3 mm steel can under copper tips of 1.0 mm, bank of 0.1 F at 12 V.
inline Problem nickel_on_can() {
  Problem p;
  p.boundary.ambient = 293.15;
  p.electrode.material = metal(463, 1358, 2835, 250e6);
  p.electrode.tip_radius = 0.5e-3;
  p.top().material = metal(793, 1728, 3186, 400e6);
  p.top().thickness = 0.15e-3;
  p.base().material = metal(773, 1800, 3134, 350e6);
  p.base().thickness = 0.3e-3;
  p.under_tip().radius = 0.5e-3;
  p.joint(0).radius = 0.55e-3;
  p.pressing.force = 20;
  circuit::CapacitorBank bank;
  bank.part_capacitance = 0.1;
  bank.charge_voltage = 12;
  p.circuit.source = bank;
  p.circuit.power_switch.train = {{5e-3, 0}};
  p.inner.resize(1);
  p.inner[0].name = "insulating disc";
  p.cell_limits = CellLimits{celsius(130), "separator shuts down"};
  return p;
}

// A good weld of that problem: nothing bad, losses in balance, all extremes in the middle.
inline Result good_weld() {
  Result r;
  size_for_one_joint(r);
  r.peak_current = {1500, 1e-3, 0, 0};
  r.joints[0].peak = {1850, 3e-3, 0.1e-3, 0};
  r.joints[0].soft_diameter = 0.95e-3;
  r.joints[0].time_soft = 4e-3;
  r.joints[0].nugget = {0.8e-3, 3.5e-3, 0.4e-3, 0};
  r.joints[0].fused_diameter = 0.8e-3;
  r.peak_tip = {700, 3e-3, 0, 0.15e-3};
  r.peak_top = {1300, 3e-3, 0, 0.15e-3};
  r.sheets[0].peak = {1900, 3e-3, 0, 0.02e-3};
  r.sheets[1].peak = {1850, 3e-3, 0, 0};
  r.peak_inner_wall = {celsius(90), 8e-3, 0, -0.3e-3};
  r.peak_temperature_any = r.sheets[0].peak;
  r.contacts[0].voltage = {0.3, 0.2e-3, 0, 0.15e-3};
  r.contacts[1].voltage = {0.4, 0.2e-3, 0, 0};
  r.sheets[0].penetration = {0.05e-3, 3.5e-3, 0, 0};
  r.sheets[1].penetration = {0.1e-3, 3.5e-3, 0, -0.1e-3};
  r.base_share_start = r.base_share_mean = 0.9;
  r.ledger.stored_before = 7.2;
  r.ledger.from_source = 7.0;
  r.ledger.source_resistance = 0.7;
  r.ledger.leads = 0.9;
  r.ledger.joints = 0.2;
  r.ledger.power_switch = 0.4;
  r.ledger.contacts[0] = 1;
  r.ledger.contacts[1] = 2;
  r.ledger.electrodes = 0.2;
  r.ledger.sheets[0] = 0.9;
  r.ledger.sheets[1] = 0.7;
  r.ledger.left_in_source = 0.2;
  LayerRecord wall;
  wall.name = "inner wall";
  wall.peak = r.peak_inner_wall;
  wall.limit = celsius(130);
  wall.limit_reason = "separator shuts down";
  LayerRecord disc;
  disc.name = "insulating disc";
  disc.peak = {celsius(70), 40e-3, 0, -0.4e-3};
  disc.melting_temperature = celsius(165);
  r.inner_wall_and_layers = {wall, disc};
  const auto row = [&r](double time, double current, double nugget, double hottest) {
    StepRecord s = step_with_one_joint();
    s.time = time;
    s.current = current;
    s.joints[0].nugget_diameter = nugget;
    s.peak_temperature = hottest;
    s.spots[0].force = 20;
    r.history.push_back(s);
  };
  row(0.2e-3, 900, 0, 900);
  row(1e-3, 1500, 0, 1500);
  row(3e-3, 1300, 0.4e-3, 1850);
  row(3.5e-3, 1200, 0.8e-3, 1900);
  row(5e-3, 1000, 0.6e-3, 1700);
  row(1.0, 0, 0, 320);
  return r;
}

// The same without a nugget, the joint no hotter than this.
inline Result unmelted(double peak_faying) {
  Result r = good_weld();
  r.joints[0].peak.value = peak_faying;
  r.joints[0].nugget = {};
  r.joints[0].fused_diameter = 0;
  r.sheets[1].penetration = r.sheets[0].penetration = {};
  r.sheets[1].peak.value = peak_faying;
  r.sheets[0].peak.value = peak_faying;
  r.peak_top.value = std::min(peak_faying, 1300.0);
  for (StepRecord& s : r.history) s.joints[0].nugget_diameter = 0;
  return r;
}

inline const Finding* find(const Verdict& verdict, Outcome outcome) {
  for (const Finding& f : verdict.findings) {
    if (f.outcome == outcome) return &f;
  }
  return nullptr;
}

inline bool holds(const Verdict& verdict, Outcome outcome) {
  const Finding* f = find(verdict, outcome);
  return f && f->holds;
}

}  // namespace tabmelt::synthetic
