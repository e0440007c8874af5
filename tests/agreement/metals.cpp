// Heat contents and conductivities of the shipped metals; decomposition inside a cell.
#include <cmath>

#include "solver/material/constants.h"
#include "solver/material/sei_damage.h"
#include "solver/phase_change/enthalpy.h"
#include "tests/agreement/row.h"
#include "tests/agreement/shipped_metals.h"

namespace tabmelt::agreement {
namespace {

// Integral of the Shomate equation c = A + B t + C t^2 + D t^3 + E/t^2 [J/mol/K], t = T/1000
// [kJ/mol].
struct Shomate {
  double A, B, C, D, E;
  double between(double from, double to) const {
    const auto primitive = [&](double T) {
      const double t = T / 1000;
      return A * t + B * t * t / 2 + C * t * t * t / 3 + D * t * t * t * t / 4 - E / t;
    };
    return primitive(to) - primitive(from);
  }
};

}  // namespace

Section metals() {
  Section s{
      "Metals",
      "Heat to melt: cold density, iron stands for steel; the curves come from the same "
      "tables, so this is\nabout integral, latent heats and density. Heat contents are the "
      "published equations integrated in\nclosed form; the files hold them as straight lines "
      "between points. EN 1993-1-2 is for structural\nsteel: a can's has less carbon and "
      "manganese and conducts better cold (pure iron 80, structural\nsteel 53 W/m/K); hot, all "
      "low-alloy steels are alike.",
      {}};
  const std::string janaf = "NIST-JANAF (Chase 1998)";
  const auto to_liquid = [](const char* name) {
    const Enthalpy enthalpy(*shipped(name));
    return 1e-9 * (enthalpy.at(enthalpy.liquidus()) - enthalpy.at(room));
  };
  s.rows = {
      {"20 °C to liquid, nickel [J/mm³]", janaf + ", from memory", 9.9, to_liquid("nickel"), 0.03},
      {"20 °C to liquid, steel [J/mm³]", janaf + ", from memory", 10.2,
       to_liquid("low-carbon-steel"), 0.03},
      {"20 °C to liquid, copper [J/mm³]", janaf + ", from memory", 6.05, to_liquid("copper"),
       0.03}};

  const auto content = [](const char* name, double molar_mass, double from, double to) {
    const MaterialPtr metal = shipped(name);
    const Enthalpy enthalpy(*metal);
    return (enthalpy.at(to) - enthalpy.at(from)) / metal->density * molar_mass * 1e-6;
  };
  const Shomate copper{17.72891, 28.09870, -31.25289, 13.97243, 0.068611};
  for (const double T : {600.0, 1000.0, 1300.0})
    s.rows.push_back({"copper, 298 to " + std::to_string(static_cast<int>(T)) + " K [kJ/mol]",
                      janaf + ", Shomate equation", copper.between(298.15, T),
                      content("copper", 63.546, 298.15, T), 0.005});
  const Shomate nickel{16.49839, 18.74913, -6.639841, 1.717278, 1.872051};
  for (const double T : {1000.0, 1400.0, 1700.0})
    s.rows.push_back({"nickel, 720 to " + std::to_string(static_cast<int>(T)) + " K [kJ/mol]",
                      janaf + ", Shomate equation", nickel.between(720, T),
                      content("nickel", 58.6934, 720, T), 0.005});

  const MaterialPtr steel = shipped("low-carbon-steel");
  for (const double celsius : {20.0, 200.0, 400.0, 600.0, 800.0, 1000.0, 1200.0})
    s.rows.push_back({"k of steel at " + std::to_string(static_cast<int>(celsius)) + " °C [W/m/K]",
                      "EN 1993-1-2:2005, 3.4.1.3", celsius < 800 ? 54 - 0.0333 * celsius : 27.3,
                      steel->conductivity_z(celsius + constants::zero_celsius),
                      celsius < 500 ? 0.25 : 0.15});
  for (const double t : {20.0, 200.0, 400.0, 600.0})
    s.rows.push_back({"c of steel at " + std::to_string(static_cast<int>(t)) + " °C [J/kg/K]",
                      "EN 1993-1-2:2005, 3.4.1.2",
                      425 + 0.773 * t - 1.69e-3 * t * t + 2.22e-6 * t * t * t,
                      steel->specific_heat.at(t + constants::zero_celsius), 0.15});
  const MaterialPtr stainless = shipped("stainless-304");
  for (const double t : {20.0, 400.0, 800.0}) {
    const std::string at = " of 304 at " + std::to_string(static_cast<int>(t)) + " °C ";
    s.rows.push_back({"k" + at + "[W/m/K]", "EN 1993-1-2:2005, annex C", 14.6 + 0.0127 * t,
                      stainless->conductivity_z(t + constants::zero_celsius), 0.05});
    s.rows.push_back({"c" + at + "[J/kg/K]", "EN 1993-1-2:2005, annex C",
                      450 + 0.280 * t - 2.91e-4 * t * t + 1.34e-7 * t * t * t,
                      stainless->specific_heat.at(t + constants::zero_celsius), 0.1});
  }
  return s;
}

Section decomposition() {
  Section s{"Decomposition of an electrode's protective film (SEI)",
            "The rate law evaluated by hand from the published constants, to two or three digits.",
            {}};
  const std::string law = "Hatchard et al., J. Electrochem. Soc. 148 (2001) A755";
  const auto rate = [](double celsius) {
    return sei_damage_rate(celsius + constants::zero_celsius);
  };
  const struct {
    double celsius, rate;  // [1/s]
  } rows[] = {{60, 1.1e-6},   {80, 1.74e-5}, {90, 6.2e-5}, {100, 2.05e-4}, {120, 1.9e-3},
              {130, 5.24e-3}, {150, 0.035},  {165, 0.13},  {200, 2.04}};
  for (const auto& row : rows)
    s.rows.push_back({"rate at " + std::to_string(static_cast<int>(row.celsius)) + " °C [1/s]", law,
                      row.rate, rate(row.celsius), 0.05});
  s.rows.push_back(
      {"left after 600 s at 130 °C [1]", law, 0.043, 1 - sei_damage(600 * rate(130)), 0.05});
  s.rows.push_back(
      {"time to lose a tenth at 150 °C [s]", law, 3.0, -std::log(0.9) / rate(150), 0.05});
  return s;
}

}  // namespace tabmelt::agreement
