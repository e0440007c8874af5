// Copper wire brought to melting and to bursting; leads.
#include "solver/circuit/conductors.h"
#include "solver/phase_change/enthalpy.h"
#include "tests/agreement/row.h"
#include "tests/agreement/shipped_metals.h"

namespace tabmelt::agreement {

Section wires_and_leads() {
  using namespace circuit;
  Section s{
      "Wires and leads",
      "Onderdonk takes a constant specific heat and a straight line for the resistivity; both "
      "matter to some\nper cent up to melting. The burst is the action at which thin wires on "
      "a capacitor bank lost their\ncurrent, the same for all diameters. It has no place on "
      "our curves (bursting is not modelled), but must\nlie between the beginning of boiling, "
      "1.34e5, and all boiled, 3.18e5; the middle stands for both, with\nthe band that spans "
      "most of it: a bracket, no prediction.\n"
      "The limits of IEC 60228 are upper ones: thin strands and their lay "
      "are\nallowed for, so copper of the nominal cross-section lies 10 to 15 % lower.",
      {}};
  const MaterialPtr copper = shipped("copper");
  const Enthalpy enthalpy(*copper);
  s.rows = {
      {"copper, 20 °C to melting [A² s/mm⁴]", "Onderdonk; Stauffacher, Gen. El. Rev. 31 (1928) 326",
       8.44e4, 1e-12 * action(*copper, enthalpy.solidus()), 0.10},
      {"copper, 20 °C to half boiled [A² s/mm⁴]",
       "burst of wires of 0.16 to 0.50 mm, Sci. Rep. 15 (2025), s41598-025-11130-7", 2.1e5,
       1e-12 * action(*copper, enthalpy.boiling() + 0.5 * Enthalpy::boiling_width), 0.3}};
  const std::string table = "IEC 60228:2004, from memory";
  const auto of = [](double mm2, ConductorClass kind) {
    return 1e3 * copper_resistance_per_metre(1e-6 * mm2, kind);
  };
  const struct {
    double mm2, flexible, stranded;
  } sizes[] = {
      {6, 3.30, 3.08}, {10, 1.91, 1.83}, {16, 1.21, 1.15}, {25, 0.780, 0.727}, {35, 0.554, 0.524}};
  for (const auto& row : sizes) {
    const std::string size = std::to_string(static_cast<int>(row.mm2)) + " mm² [mΩ/m]";
    s.rows.push_back({"class 5, " + size, table + ", table 3", row.flexible,
                      of(row.mm2, ConductorClass::flexible), 1e-3});
    s.rows.push_back({"class 2, " + size, table + ", table 2", row.stranded,
                      of(row.mm2, ConductorClass::solid_or_stranded), 1e-3});
    s.rows.push_back({"pure copper, " + size, "IEC 60028, 1/58 Ω mm²/m", 1e3 / 58 / row.mm2,
                      of(row.mm2, ConductorClass::flexible), 0.15});
  }
  const std::string grover = "Grover, Inductance Calculations (1946)";
  const auto circle = [](double radius) { return 3.14159265358979324 * radius * radius; };
  s.rows.push_back({"AWG 8 [m²]", "ASTM B258", 8.36556406008e-6, awg_cross_section(8), 1e-9});
  s.rows.push_back({"two wires, a = 2 mm, D = 20 mm [H/m]",
                    grover + "; mean distance by quadrature", 1.0210340372e-6,
                    two_wire_inductance(1, circle(2e-3), 2e-2), 1e-9});
  s.rows.push_back({"rectangle 0.3 × 0.05 m, a = 2 mm [H]", grover + "; Neumann integrals",
                    4.58673184956e-7, rectangular_loop_inductance(0.3, 0.05, circle(2e-3)), 1e-9});
  return s;
}

}  // namespace tabmelt::agreement
