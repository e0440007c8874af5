// Keys of [contact.tip] and [contact.faying].
#include <fmt/format.h>

#include "io/case/schema.h"
#include "io/case/units.h"

namespace tabmelt::schema {

double strip_film(const MaterialPtr& strip) {
  constexpr double nickel = 3e-11;
  return strip ? strip->film_resistance.value_or(nickel) : nickel;
}

namespace {

using Face = Contact Draft::*;

Standard usual_film(const MaterialPtr& strip, bool faying) {
  // Copper on a sheet has about a third of the film between two sheets.
  constexpr double tip_share = 0.3;
  const double film = strip_film(strip);
  return {fmt::format("{:.4g} ohm m2", faying ? film : tip_share * film),
          // † from memory: not checked against the publication.
          faying
              ? "the film of the strip's material; cans are nickel-plated; uncertain by a factor "
                "of 3, the largest uncertainty of the model"
              : "0.3 of the film between two sheets of the strip's material: copper on bare "
                "steel 0.2 to 0.5 (Vogler & Sheppard 1993†)"};
}

// The keys of a law that is not in force set nothing that counts.
FixedContact& give_fixed(Contact& contact) {
  static thread_local FixedContact unused;
  return contact.fixed ? *contact.fixed : unused;
}

std::vector<Key> face_keys(const std::string& at, Face face, const std::string& what) {
  const Condition if_fixed{[face](const Draft& d) { return (d.*face).fixed.has_value(); },
                           at + ".law = \"fixed\""};
  const Condition if_constriction{[face](const Draft& d) { return !(d.*face).fixed; },
                                  at + ".law = \"constriction\""};
  const bool faying = face == &Draft::faying;
  return {
      {.path = at + ".law",
       .form = choice({"constriction", "fixed"}),
       .meaning = "How " + what +
                  " resists: from force, hardness and roughness, or with constant values of your "
                  "own.",
       .standard = {"constriction",
                    "Cooper, Mikic & Yovanovich, Int. J. Heat Mass Transfer 12 (1969) 279"},
       .set =
           [face](Draft& d, const Value& v) {
             if (v.text == "fixed")
               (d.*face).fixed.emplace((d.*face).fixed.value_or(FixedContact{}));
             else
               (d.*face).fixed.reset();
           }},
      {.path = at + ".radius",
       .form = quantity("mm", 5e-6, 0.03),
       .meaning = "Radius of the face that touches.",
       .rule = [face, faying](const Draft& d) -> std::optional<Standard> {
         const double tip = d.problem.electrode.tip_radius;
         if (!faying || (d.*face).fixed)
           return Standard{units::in_unit(tip, "mm", 12), "as the electrode's face"};
         if (d.joints() > 1) return std::nullopt;
         return Standard{units::in_unit(tip + d.top().thickness, "mm", 12),
                         "load spreads through the strip at 45 degrees; engineering judgement"};
       },
       .rule_in_words = faying ? "half of electrode.tip_diameter, plus the strips above under the "
                                 "constriction law (load spread of 45 degrees)"
                               : "half of electrode.tip_diameter",
       .set = [face](Draft& d, const Value& v) { (d.*face).radius = v.number; }},
      {.path = at + ".area_resistance",
       .form = quantity("ohm m2", 0, 1),
       .meaning = "Electrical resistance times area.",
       .required = true,
       .applies = if_fixed,
       .set = [face](Draft& d, const Value& v) { give_fixed(d.*face).area_resistance = v.number; }},
      {.path = at + ".area_conductance",
       .form = quantity("W/m2/K", 1e-3, 1e12),
       .meaning = "Heat conductance per area.",
       .required = true,
       .applies = if_fixed,
       .set = [face](Draft& d,
                     const Value& v) { give_fixed(d.*face).area_conductance = v.number; }},
      {.path = at + ".roughness",
       .form = quantity("um", 1e-9, 1e-4),
       .meaning = "Combined r.m.s. height of the two surfaces.",
       .standard = {"1 um",
                    "ground and rolled surfaces, of the order of 1 um; engineering judgement"},
       .spread = {"log-normal 1.5", "ground, rolled and worn surfaces; engineering judgement"},
       .applies = if_constriction,
       .set = [face](Draft& d, const Value& v) { (d.*face).roughness = v.number; }},
      {.path = at + ".slope",
       .form = number(1e-3, 1),
       .meaning = "Combined mean slope of the asperities.",
       .standard = {"0.1", "usual range 0.1 to 0.4; engineering judgement"},
       .spread = {"log-normal 1.4", "usual range 0.1 to 0.4; engineering judgement"},
       .applies = if_constriction,
       .set = [face](Draft& d, const Value& v) { (d.*face).slope = v.number; }},
      {.path = at + ".resistance",
       .form = quantity("mohm", 1e-7, 1),
       .meaning = "Resistance of this contact alone, measured cold under pressing.force; sets the "
                  "film.",
       .rule_in_words = "left out: from film_resistance",
       .applies = if_constriction,
       .set =
           [faying](Draft& d, const Value& v) {
             (faying ? d.faying_resistance : d.tip_resistance) = v.number;
           }},
      {.path = at + ".film_resistance",
       .form = quantity("ohm m2", 0, 1e-3),
       .meaning = "Resistance times true contact area of the surface film (oxide, dirt), cold.",
       .spread = {"log-normal 1.75",
                  "19 of 20 within a factor of 3, the uncertainty of the default"},
       .rule = [faying](const Draft& d) -> std::optional<Standard> {
         if (faying && d.joints() > 1) return std::nullopt;
         return usual_film(d.top().material, faying);
       },
       .rule_in_words = faying
                            ? "that of the material of the strip above, 3e-11 ohm m2 if it has none"
                            : "0.3 of that of the strip's material",
       .applies = {[if_constriction, faying](const Draft& d) {
                     return if_constriction.holds(d) &&
                            (faying ? d.faying_resistance : d.tip_resistance) == 0;
                   },
                   if_constriction.words + " and no " + at + ".resistance"},
       .set = [face](Draft& d, const Value& v) { (d.*face).film_resistance = v.number; }},
      {.path = at + ".film_decay",
       .form = quantity("K", 10, 1e5),
       .meaning = "Rise of temperature over which the film's resistance falls to 1/e, for good.",
       .standard = {"400 K",
                    // † from memory: not checked against the publication.
                    "bare steel: about a tenth at 450 to 600 degC (Vogler & Sheppard 1993, Babu "
                    "et al. 2001†), the softer metal's larger contact taken off; "
                    "uncertain by a factor of 1.4"},
       .spread = {"log-normal 1.2",
                  "19 of 20 within a factor of 1.4, the uncertainty of the default"},
       .applies = if_constriction,
       .set = [face](Draft& d, const Value& v) { (d.*face).film_decay = v.number; }},
      {.path = at + ".hardness",
       .form = quantity("GPa", 1e6, 1e11),
       .meaning = "Cold indentation hardness of the softer side; 1 GPa is about 100 HV.",
       .rule_in_words = "left to the materials: that of the softer one",
       .applies = if_constriction,
       .set = [face](Draft& d, const Value& v) { (d.*face).hardness = v.number; }},
  };
}

}  // namespace

std::vector<Key> contact_keys() {
  return joined({face_keys("contact.tip", &Draft::tip, "the face between electrode and strip"),
                 face_keys("contact.faying", &Draft::faying, "the face between strip and can")});
}

}  // namespace tabmelt::schema
