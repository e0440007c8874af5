// Keys of [contact.tip] and [contact.faying].
#include "io/case/schema.h"
#include "io/case/units.h"

namespace tabmelt::schema {
namespace {

using Face = Contact Problem::*;

std::vector<Key> face_keys(const std::string& at, Face face, const std::string& what) {
  const auto is_fixed = [face](const Draft& d) {
    return (d.problem.*face).law == ContactLaw::fixed;
  };
  const auto is_constriction = [face](const Draft& d) {
    return (d.problem.*face).law == ContactLaw::constriction;
  };
  const std::string if_fixed = at + ".law = \"fixed\"";
  const std::string if_constriction = at + ".law = \"constriction\"";
  const bool faying = face == &Problem::faying_contact;
  return {
      {.path = at + ".law",
       .kind = Kind::choice,
       .words = {"constriction", "fixed"},
       .meaning = "How " + what +
                  " resists: from force, hardness and roughness, or with constant values of your "
                  "own.",
       .standard = {"constriction",
                    "Cooper, Mikic & Yovanovich, Int. J. Heat Mass Transfer 12 (1969) 279"},
       .set =
           [face](Draft& d, const Value& v) {
             (d.problem.*face).law =
                 v.text == "fixed" ? ContactLaw::fixed : ContactLaw::constriction;
           }},
      {.path = at + ".radius",
       .kind = Kind::quantity,
       .unit = "mm",
       .lowest = 5e-6,
       .highest = 0.03,
       .meaning = "Radius of the face that touches.",
       .rule = [face, faying](const Draft& d) -> std::optional<Standard> {
         const double tip = d.problem.electrode.tip_radius;
         if (!faying || (d.problem.*face).law == ContactLaw::fixed)
           return Standard{units::in_unit(tip, "mm", 12), "as the electrode's face"};
         return Standard{units::in_unit(tip + d.problem.strip.thickness, "mm", 12),
                         "load spreads through the strip at 45 degrees; engineering judgement"};
       },
       .rule_in_words = faying ? "half of electrode.tip_diameter, plus strip.thickness under the "
                                 "constriction law (load spread of 45 degrees)"
                               : "half of electrode.tip_diameter",
       .set = [face](Draft& d, const Value& v) { (d.problem.*face).radius = v.number; }},
      {.path = at + ".area_resistance",
       .kind = Kind::quantity,
       .unit = "ohm m2",
       .lowest = 0,
       .highest = 1,
       .meaning = "Electrical resistance times area.",
       .required = true,
       .applies = is_fixed,
       .applies_when = if_fixed,
       .set = [face](Draft& d, const Value& v) { (d.problem.*face).area_resistance = v.number; }},
      {.path = at + ".area_conductance",
       .kind = Kind::quantity,
       .unit = "W/m2/K",
       .lowest = 1e-3,
       .highest = 1e12,
       .meaning = "Heat conductance per area.",
       .required = true,
       .applies = is_fixed,
       .applies_when = if_fixed,
       .set = [face](Draft& d, const Value& v) { (d.problem.*face).area_conductance = v.number; }},
      {.path = at + ".roughness",
       .kind = Kind::quantity,
       .unit = "um",
       .lowest = 1e-9,
       .highest = 1e-4,
       .meaning = "Combined r.m.s. height of the two surfaces.",
       .standard = {"1 um",
                    "ground and rolled surfaces, of the order of 1 um; engineering judgement"},
       .applies = is_constriction,
       .applies_when = if_constriction,
       .set = [face](Draft& d, const Value& v) { (d.problem.*face).roughness = v.number; }},
      {.path = at + ".slope",
       .kind = Kind::number,
       .lowest = 1e-3,
       .highest = 1,
       .meaning = "Combined mean slope of the asperities.",
       .standard = {"0.1", "usual range 0.1 to 0.4; engineering judgement"},
       .applies = is_constriction,
       .applies_when = if_constriction,
       .set = [face](Draft& d, const Value& v) { (d.problem.*face).slope = v.number; }},
      {.path = at + ".film_resistance",
       .kind = Kind::quantity,
       .unit = "ohm m2",
       .lowest = 0,
       .highest = 1e-3,
       .meaning = "Resistance times true contact area of the surface film (oxide, dirt).",
       .standard = {"2.5e-12 ohm m2",
                    "puts a cold contact at 20 N near 0.2 mohm, amid published 0.04 to 0.6; "
                    "engineering judgement and the largest uncertainty"},
       .applies = is_constriction,
       .applies_when = if_constriction,
       .set = [face](Draft& d, const Value& v) { (d.problem.*face).film_resistance = v.number; }},
      {.path = at + ".hardness",
       .kind = Kind::quantity,
       .unit = "GPa",
       .lowest = 1e6,
       .highest = 1e11,
       .meaning = "Cold indentation hardness of the softer side; 1 GPa is about 100 HV.",
       .rule = nullptr,
       .rule_in_words = "left to the materials: that of the softer one",
       .applies = is_constriction,
       .applies_when = if_constriction,
       .set = [face](Draft& d, const Value& v) { (d.problem.*face).hardness = v.number; }},
  };
}

}  // namespace

std::vector<Key> contact_keys() {
  std::vector<Key> keys =
      face_keys("contact.tip", &Problem::tip_contact, "the face between electrode and strip");
  for (Key& key :
       face_keys("contact.faying", &Problem::faying_contact, "the face between strip and can"))
    keys.push_back(std::move(key));
  return keys;
}

}  // namespace tabmelt::schema
