// Voltages, spreading resistances and weld currents of contacts.
#include <cmath>
#include <memory>
#include <utility>

#include "solver/material/constants.h"
#include "solver/solve.h"
#include "tests/agreement/row.h"
#include "tests/agreement/shipped_metals.h"
#include "tests/support/constriction.h"
#include "tests/support/sheet.h"
#include "tests/verification/spreading.h"
#include "tests/verification/weld_problem.h"

namespace tabmelt::agreement {
namespace {

// Voltage over a contact of one metal, ends at 20 C, hottest place at T:
// U^2 = 8 int k rho_e dT (Kohlrausch, Ann. Phys. 306 (1900) 132).
double contact_voltage(const Material& metal, double T) {
  return std::sqrt(8 * integral(room, T, [&](double at) {
                     return metal.conductivity_z(at) * metal.resistivity_at(at);
                   }));
}

const std::string holm = "Holm, Electric Contacts, 4th ed. (1967), from memory";

}  // namespace

Section contact_voltages() {
  Section s{
      "Voltage over a contact that softens or melts",
      "Holm's values are measured on technical metals and rounded; other tables differ from "
      "his by about\nas much as the band (nickel softens at 0.16 to 0.22 V). His molybdenum "
      "is the odd one, 19.5 %\nbelow ours: the law of Wiedemann and Franz puts its melting at "
      "0.90 V, as the curves here do.",
      {}};
  const double band = 0.20;
  const auto melting = [](const char* name) {
    const MaterialPtr metal = shipped(name);
    return contact_voltage(*metal, metal->melting.value().solidus);
  };
  const auto softening = [](const char* name, double celsius) {
    return contact_voltage(*shipped(name), celsius + constants::zero_celsius);
  };
  s.rows = {{"melting, nickel [V]", holm, 0.65, melting("nickel"), band},
            {"melting, iron (can steel) [V]", holm, 0.60, melting("low-carbon-steel"), band},
            {"melting, copper [V]", holm, 0.43, melting("copper"), band},
            {"melting, tungsten [V]", holm, 1.1, melting("tungsten"), band},
            {"melting, molybdenum [V]", holm, 0.75, melting("molybdenum"), band},
            {"softening, nickel, 520 °C [V]", holm, 0.22, softening("nickel", 520), band},
            {"softening, iron, 500 °C [V]", holm, 0.21, softening("low-carbon-steel", 500), band},
            {"softening, copper, 190 °C [V]", holm, 0.12, softening("copper", 190), band}};
  return s;
}

Section spreading_resistances() {
  using namespace spreading;
  Section s{
      "Spreading resistance",
      "Resistance times conductivity and spot radius, spot of even current density unless "
      "said. Exact but for\nthe last row; the grid of the check has the spot's edge at a 128th "
      "of its radius. A spot at one\npotential draws an infinite current density at its edge, "
      "where any grid is of first order.",
      {}};
  const double unit = kappa * a;
  const std::string series = "Bessel series (Newman, J. Electrochem. Soc. 113 (1966) 501)";
  using namespace exact::constriction;
  const double b = 2 * a;
  s.rows = {
      {"end of a cylinder, a/b = 0.5, l/b = 1 [1]", series, 0.2613691315,
       unit * resistance(b, b, 8), 1e-3},
      {"end of a cylinder, a/b = 0.2, l/b = 5 [1]", series, 0.518547594,
       unit * resistance(5 * a, 25 * a, 8), 1e-3},
      {"plate, t/a = 1 [1]", "Hankel integral (Newman 1966; Holm)", 0.173556788964,
       unit * resistance(9 * a, a, 8), 1e-3},
      {"sheet, t = 0.2 mm, R = 5 mm [1/m]", "Smythe, Static and Dynamic Electricity; cosine series",
       2860.6541511, kappa * sheet_resistance(2e-4, 5e-3, 4), 1e-3},
      {"constriction of an equipotential spot, a/b = 0.5 [1]",
       "Roess, 1 - 1.409 e + 0.296 e^3 + 0.053 e^5, from memory", 0.3341,
       4 * (unit * resistance(b, 3 * b, 8, true) - 3 * b / (constants::pi * b * b) * a), 0.05}};
  return s;
}

namespace {

// A nickel rod with a rounded end, hardness 1 GPa, pressed on thick nickel, cold: resistance of the
// contact and of what narrows towards it. Force 0: joined over the rod's whole face.
double pressed(double force) {
  auto metal = std::make_shared<Material>(*shipped("nickel"));
  metal->hardness = 1e9;
  Problem p = lone_rod(metal, 1.5e-3, 6e-3);
  p.top().material = p.base().material = metal;
  p.top().thickness = 0.2e-3;
  p.base().thickness = 2e-3;
  p.numerics.resolution = 2;
  p.top().radius = p.top().rim_radius = p.base().radius = p.base().rim_radius = 6e-3;
  p.joint(0).radius = 5.8e-3;
  p.joint(0).fixed->area_conductance = 1e12;
  if (force > 0) {
    p.electrode.face_radius = 1e-6;  // no elastic flattening
    p.under_tip() = {};
    p.under_tip().radius = 1.5e-3;
    p.under_tip().roughness = 0.2e-6;
    p.under_tip().slope = 0.1;
  }
  p.pressing.force = force > 0 ? force : 20;
  p.boundary.ambient = room;
  p.probes.clear();
  p.circuit.source = circuit::TableCurrent{{0, 1}, {1, 1}};
  p.numerics.end_time = 1e-5;
  return solve(p).history.front().load_resistance;
}

}  // namespace

Section pressed_contacts() {
  Section s{
      "A rounded end pressed on a plate, cold",
      "Nickel, hardness 1 GPa. Holm's spot flows until it bears the force and spreads into two "
      "half-spaces;\nhere the rod of 3 mm is no half-space, and roughness adds some per cent. "
      "The current at which such a\ncontact welds is a voltage over this resistance, so it "
      "grows as the root of the force (Slade, IEEE\nHolm Conf. (2014)): 5, 20, 80 N are a "
      "factor of two each. That is the scaling of the cold\nresistance only. The current that "
      "welds in a pulse of some milliseconds does not agree:\nhis formula "
      "gives 328, 656 and 1312 A for these forces; ours, by the temperature of the\nspot, 289, "
      "875 and 2622 A on the finest of three grids and other values on the coarser ones. Our\n"
      "contact grows while it softens, his does not.",
      {}};
  const double joined = pressed(0);
  const double at_5 = pressed(5) - joined, at_20 = pressed(20) - joined,
               at_80 = pressed(80) - joined;
  const double rho = shipped("nickel")->resistivity_at(room),
               factor = 0.5 * std::sqrt(constants::pi);
  const std::string plastic = "0.886 ρ sqrt(H/F); Holm (1967), from memory";
  for (const auto& [force, value] : {std::pair{5.0, at_5}, {20.0, at_20}, {80.0, at_80}})
    s.rows.push_back({std::to_string(static_cast<int>(force)) + " N [Ω]", plastic,
                      factor * rho * std::sqrt(1e9 / force), value, 0.15});
  s.rows.push_back({"5 N over 20 N [1]", "sqrt(F); Holm, Slade", 2, at_5 / at_20, 0.1});
  s.rows.push_back({"20 N over 80 N [1]", "sqrt(F); Holm, Slade", 2, at_20 / at_80, 0.1});
  return s;
}

}  // namespace tabmelt::agreement
