// What keeps a problem from being solved: each fault is named with the keys it is about.
#include <gtest/gtest.h>

#include <functional>
#include <limits>

#include "solver/problem/problem.h"

namespace tabmelt {
namespace {

std::shared_ptr<Material> metal(const std::string& name) {
  auto m = std::make_shared<Material>();
  m->name = name;
  m->density = 8900;
  m->specific_heat = Curve::constant(440);
  m->thermal_conductivity = Curve::constant(90);
  m->resistivity = Curve::constant(7e-8);
  m->melting = Melting{1700, 1720, 3e5};
  m->hardness = 1.5e9;
  return m;
}

Problem sound() {
  Problem p;
  p.name = "sound";
  p.electrode = {metal("copper"), 0.75e-3, 1.5e-3, 0.5, 6e-3};
  p.top() = {"strip", metal("nickel"), 0.15e-3, 5.86e-3, 9e-3};
  p.base() = {"can", metal("steel"), 0.3e-3, 4.416e-3, 9e-3};
  p.inner = {{"film", metal("film"), 0.05e-3, 363.15, {}, {}, "boils"},
             {"disc", metal("disc"), 0.2e-3, {}, {}, {}, ""}};
  for (Contact* contact : {&p.under_tip(), &p.joint(0)}) {
    contact->radius = 0.75e-3;
    contact->roughness = 1e-6;
    contact->slope = 0.1;
    contact->film_resistance = 2e-12;
  }
  p.pressing = {Closing::switched, 25, 0, 0};
  p.arrangement = {2, 4e-3};
  circuit::CapacitorBank bank;
  bank.part_capacitance = 4.7e-3;
  bank.part_esr = 0.02;
  bank.parallel = 20;
  bank.charge_voltage = 16;
  p.circuit.source = bank;
  p.circuit.leads = {"copper", 16e-6, 0.3, 20e-3, {}, {}};
  p.circuit.power_switch = {1e-3, {{8e-3, 0}}};
  p.cell_limits = CellLimits{403.15, "judgement"};
  p.probes = {{"wall", "can", 0, -0.3e-3}, {"edge", "electrode", 1e-3, 3e-3}};
  return p;
}

circuit::CapacitorBank& bank_of(Problem& p) {
  return std::get<circuit::CapacitorBank>(p.circuit.source);
}

TEST(Complaints, none_about_a_sound_problem) { EXPECT_TRUE(complaints(sound()).empty()); }

TEST(Complaints, none_about_a_bank_charged_above_its_rating) {
  Problem p = sound();
  bank_of(p).rated_voltage = 10;
  EXPECT_TRUE(complaints(p).empty());
}

struct Fault {
  const char* keys;   // the complaint starts with these
  const char* words;  // and holds these
  std::function<void(Problem&)> done;
};

TEST(Complaints, name_each_fault) {
  const double not_a_number = std::numeric_limits<double>::quiet_NaN();
  // A touch-down that is sound but for one thing.
  const auto landing = [](const std::function<void(Pressing&)>& spoil) {
    return [spoil](Problem& p) {
      p.pressing = {Closing::unswitched, 25, 0.05, 2000};
      spoil(p.pressing);
    };
  };
  const Fault faults[] = {
      {"strip.material: ", "no material", [](Problem& p) { p.top().material = nullptr; }},
      {"layer 1: ", "no material", [](Problem& p) { p.inner[0].material = nullptr; }},
      {"can.material: ", "no resistivity",
       [](Problem& p) {
         auto plastic = metal("plastic");
         plastic->resistivity = {};
         p.base().material = plastic;
       }},
      {"contact.tip.hardness, contact.tip.law, electrode.material: ", "no hardness",
       [](Problem& p) {
         auto soft = metal("soft");
         soft->hardness.reset();
         p.electrode.material = soft;
       }},
      {"strip.material, boundary.ambient: ", "molten",
       [](Problem& p) {
         auto low = metal("low");
         low->melting = Melting{290, 291, 1e5};
         p.top().material = low;
       }},
      {"electrode.body_diameter, electrode.tip_diameter: ", "narrower",
       [](Problem& p) {
         p.electrode.body_radius = 0.5e-3;
         p.probes.clear();
       }},
      {"electrode.taper_angle, electrode.body_diameter: ", "without a cone",
       [](Problem& p) {
         p.electrode.taper_angle = 0;
         p.probes.clear();
       }},
      {"electrode.length, electrode.taper_angle: ", "cone alone",
       [](Problem& p) {
         p.electrode.length = 1e-3;
         p.probes.clear();
       }},
      {"electrode.tip_diameter, arrangement.spacing: ", "touch each other",
       [](Problem& p) { p.arrangement.spacing = 1.5e-3; }},
      {"arrangement.spacing, can.radius: ", "do not fit",
       [](Problem& p) { p.arrangement.spacing = 17e-3; }},
      {"arrangement.kind: ", "not 3", [](Problem& p) { p.arrangement.spots = 3; }},
      {"strip.rim_radius: ", "inside the contact", [](Problem& p) { p.top().rim_radius = 0.6e-3; }},
      {"can.radius, can.rim_radius: ", "inside its rim_radius",
       [](Problem& p) { p.base().rim_radius = 9.5e-3; }},
      {"strip.thickness: ", "above zero", [](Problem& p) { p.top().thickness = 0; }},
      {"can.thickness: ", "above zero",
       [&](Problem& p) {
         p.base().thickness = not_a_number;
         p.probes.clear();
       }},
      {"contact.tip.radius, electrode.tip_diameter: ", "wider than the tip",
       [](Problem& p) { p.under_tip().radius = 1e-3; }},
      {"contact.faying.area_conductance: ", "above zero",
       [](Problem& p) { p.joint(0).fixed.emplace(); }},
      {"pressing.force: ", "above zero", [](Problem& p) { p.pressing.force = -1; }},
      {"pressing.approach_speed: ", "above zero",
       [](Problem& p) {
         p.pressing.closing = Closing::unswitched;
         p.pressing.tip_stiffness = 2000;
       }},
      {"pressing.closing, source.kind: ", "needs a bank or a battery",
       [](Problem& p) {
         p.pressing = {Closing::unswitched, 25, 0.05, 2000};
         p.circuit.source = circuit::ExponentialCurrent{600, 1e-3};
       }},
      {"pressing.height_difference: ", "negative",
       landing([](Pressing& p) { p.height_difference = -1e-4; })},
      {"pressing.height_difference, arrangement.kind: ", "no second tip",
       [](Problem& p) {
         p.pressing = {Closing::unswitched, 25, 0.05, 2000, 1e-4};
         p.arrangement.spots = 1;
       }},
      {"pressing.moving_mass: ", "negative", landing([](Pressing& p) { p.moving_mass = -0.01; })},
      {"pressing.restitution: ", "bounce for ever", landing([](Pressing& p) {
         p.moving_mass = 0.01;
         p.impact_time = 1e-4;
         p.restitution = 1;
       })},
      {"pressing.impact_time: ", "above zero", landing([](Pressing& p) { p.moving_mass = 0.01; })},
      {"source.series: ", "at least 1", [](Problem& p) { bank_of(p).series = 0; }},
      {"source.parallel: ", "at least 1", [](Problem& p) { bank_of(p).parallel = -2; }},
      {"source.table: ", "point 3 is not after",
       [](Problem& p) {
         p.circuit.source = circuit::TableCurrent{{0, 1, 1}, {1, 2, 3}};
       }},
      {"source.table: ", "as many times",
       [](Problem& p) {
         p.circuit.source = circuit::TableCurrent{{0, 1}, {1}};
       }},
      {"source.time_constant: ", "above zero",
       [](Problem& p) {
         p.circuit.source = circuit::ExponentialCurrent{600, 0};
       }},
      {"leads.spacing, leads.cross_section: ", "less than the wire is thick",
       [](Problem& p) { p.circuit.leads.spacing = 2e-3; }},
      {"switch.pulses: ", "above zero",
       [](Problem& p) {
         p.circuit.power_switch.train = {{0, 1e-3}};
       }},
      {"layer 2: ", "is taken", [](Problem& p) { p.inner[1].name = "can"; }},
      {"layer 1: ", "exceeded before the pulse", [](Problem& p) { p.inner[0].limit = 280; }},
      {"limits.inner_wall, boundary.ambient: ", "exceeded before the pulse",
       [](Problem& p) { p.cell_limits->inner_wall = 290; }},
      {"probe 1: ", "outside the part \"can\"", [](Problem& p) { p.probes[0].z = 0.1e-3; }},
      {"probe 1: ", "which ends at 9 mm", [](Problem& p) { p.probes[0].r = 10e-3; }},
      {"probe 1: ", "known are electrode, strip, can, film, disc",
       [](Problem& p) { p.probes[0].part = "cell"; }},
      {"probe 2: ", "which ends at",
       [](Problem& p) {
         p.probes[1].z = 0.2e-3;  // beside the cone
       }},
      {"probe 2: ", "is taken", [](Problem& p) { p.probes[1].name = "wall"; }},
      {"numerics.longest_step, numerics.first_step: ", "shorter",
       [](Problem& p) { p.numerics.longest_step = 1e-9; }},
      {"numerics.resolution: ", "above zero", [](Problem& p) { p.numerics.resolution = 0; }},
  };
  for (const Fault& fault : faults) {
    Problem p = sound();
    fault.done(p);
    const auto list = complaints(p);
    ASSERT_EQ(list.size(), 1u) << fault.keys << fault.words << (list.empty() ? "" : list.back());
    EXPECT_TRUE(list[0].starts_with(fault.keys)) << list[0];
    EXPECT_NE(list[0].find(fault.words), std::string::npos) << list[0];
  }
}

TEST(Complaints, come_all_at_once) {
  Problem p = sound();
  p.pressing.force = 0;
  p.numerics.frames = 0;
  bank_of(p).series = 0;
  EXPECT_EQ(complaints(p).size(), 3u);
  EXPECT_GT(complaints(Problem{}).size(), 10u);
}

TEST(Complaints, sheets_of_a_pure_check_may_end_anywhere) {
  Problem p = sound();
  p.cell_limits.reset();
  p.inner.clear();
  p.probes.clear();
  p.base().rim_radius = p.base().radius = 2e-3;
  p.top().rim_radius = p.top().radius = 2e-3;
  EXPECT_TRUE(complaints(p).empty());
}

struct CircuitFault {
  const char* words;
  std::function<void(Problem&)> make;
};

TEST(Complaints, about_sources_switches_and_chargers) {
  using circuit::CapacitorBank;
  const std::vector<CircuitFault> faults{
      {"source.esr_spread", [](Problem& p) { bank_of(p).esr_spread = 1; }},
      {"source.esr_by_temperature", [](Problem& p) { bank_of(p).esr_factor = 0; }},
      {"source.balancing", [](Problem& p) { bank_of(p).balancing = -0.1; }},
      {"source.rated_ripple", [](Problem& p) { bank_of(p).rated_ripple = 0; }},
      {"source.thermal_resistance", [](Problem& p) { bank_of(p).thermal_resistance = -1; }},
      {"source.cut_off_current",
       [](Problem& p) {
         p.circuit.source = circuit::Battery{12, 0.01, {}, -5, 0};
       }},
      {"source.current_limit",
       [](Problem& p) {
         p.circuit.source = circuit::BenchSupply{12, 0, 0.01};
       }},
      {"source.voltage",
       [](Problem& p) {
         p.circuit.source = circuit::BenchSupply{0, 5, 0.01};
       }},
      {"switch.parallel", [](Problem& p) { p.circuit.power_switch.parallel = 0; }},
      {"switch.clamp_voltage",
       [](Problem& p) { p.circuit.power_switch.protection = circuit::Protection::clamp; }},
      {"switch.diode_drop",
       [](Problem& p) { p.circuit.power_switch.protection = circuit::Protection::freewheel; }},
      {"cannot be switched off",
       [](Problem& p) { p.circuit.power_switch.kind = circuit::SwitchKind::thyristor; }},
      {"bar: must be above zero",
       [](Problem& p) {
         p.circuit.pieces = {{"bar", 0.1, 0, 1e-8, 1, 0}};
       }},
      {"never charges",
       [](Problem& p) {
         p.circuit.charger = circuit::Charger{1, 10, 0};
       }},
      {"work.welds_per_minute", [](Problem& p) { p.circuit.weld_rate = 0; }},
      {"cell.pause", [](Problem& p) { p.sequence.welds = 3; }},
      {"cell.spots", [](Problem& p) { p.sequence.welds = 0; }},
  };
  for (const CircuitFault& fault : faults) {
    Problem p = sound();
    fault.make(p);
    const auto list = complaints(p);
    ASSERT_EQ(list.size(), 1u) << fault.words << (list.empty() ? "" : ": " + list.back());
    EXPECT_NE(list[0].find(fault.words), std::string::npos) << list[0];
  }
}

}  // namespace
}  // namespace tabmelt
