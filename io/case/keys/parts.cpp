// Keys of [electrode], [strip] and [can].
#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "io/case/effective_rim.h"
#include "io/case/keys/usual.h"
#include "io/case/units.h"

namespace tabmelt {

double can_disc_radius(const Draft& d) {
  if (d.is_given("can.radius")) return d.can.radius;
  if (const auto preset = d.preset()) return units::in_si(preset->can_radius, "mm");
  return 9e-3;
}

}  // namespace tabmelt

namespace tabmelt::schema {
namespace {

constexpr double smallest_sheet = 5e-4, largest_sheet = 2.0;  // [m] radii

std::string millimetres(double metres) { return units::in_unit(metres, "mm", 12); }

Standard can_rim(const Draft& d) {
  const double b = can_disc_radius(d);
  if (!d.side_by_side())
    return {millimetres(b), "opposed: the return clamp sits at the can's edge"};
  try {
    return {millimetres(std::min(disc_rim_radius(d.problem.arrangement.spacing, b), largest_sheet)),
            "d (4 b^2 + d^2)/(4 b^2 - d^2) for a disc, images (Smythe, Static and Dynamic "
            "Electricity)"};
  } catch (const std::domain_error&) {
    return {millimetres(b), "the electrodes do not fit on the disc"};
  }
}

Standard can_radius(const Draft& d) {
  if (d.is_given("can.rim_radius"))
    return {millimetres(d.can.rim_radius), "the sheet ends at the rim_radius that is given"};
  const double radius = std::max(can_disc_radius(d), d.can.rim_radius);
  if (const auto preset = d.preset()) return {millimetres(radius), preset->radius_reason};
  return {millimetres(radius), "as the bottom of an 18650 cell; engineering judgement"};
}

Standard strip_rim(const Draft& d) {
  if (!d.side_by_side())
    return {millimetres(d.is_given("strip.radius") ? d.strip().sheet.radius : d.can.radius),
            "opposed: no current leaves through the strip"};
  const double spacing = d.problem.arrangement.spacing;
  const auto standard = [](double radius, const char* reason) {
    return Standard{millimetres(std::min(radius, largest_sheet)), reason};
  };
  try {
    if (d.strip().slit_length > 0) {
      const bool parted = !d.strip().across && d.strip().slit_length >= d.strip().width;
      const double slit = parted ? 0 : d.strip().slit_length;
      return standard(d.strip().across ? strip_rim_radius_across(spacing, d.strip().width, slit)
                                       : strip_rim_radius_along(spacing, d.strip().width, slit),
                      "around the ends of the slit, conformal mapping (Smythe, Static and Dynamic "
                      "Electricity)");
    }
    if (d.strip().across)
      return standard(strip_rim_radius_across(spacing, d.strip().width),
                      "(2 w/pi) tan(pi d/(2 w)) for a strip, images (Smythe, Static and Dynamic "
                      "Electricity)");
    return standard(strip_rim_radius_along(spacing, d.strip().width),
                    "(w/pi) sinh(pi d/w) for a strip, images (Smythe, Static and Dynamic "
                    "Electricity)");
  } catch (const std::domain_error&) {
    return standard(spacing, "the electrodes do not fit on the strip");
  }
}

Standard strip_radius(const Draft& d) {
  if (d.is_given("strip.rim_radius"))
    return {millimetres(d.strip().sheet.rim_radius),
            "the sheet ends at the rim_radius that is given"};
  return {millimetres(std::max(d.can.radius, d.strip().sheet.rim_radius)),
          "as the can, at least rim_radius: heat does not reach that far during a pulse"};
}

}  // namespace

std::vector<Key> electrode_keys() {
  return {
      {.path = "electrode.material",
       .form = {Kind::material},
       .meaning = "Material of the electrode.",
       .standard = {"copper", "common practice, no source"},
       .set = [](Draft& d, const Value& v) { d.problem.electrode.material = v.material; }},
      {.path = "electrode.tip_diameter",
       .form = quantity("mm", 5e-5, 0.02),
       .meaning = "Diameter of the tip's end.",
       .standard = {"1.5 mm", "usual tips 1 to 3 mm; common practice, no source"},
       .spread = {"5 %", "filed by hand, measured with callipers; engineering judgement"},
       .set = [](Draft& d, const Value& v) { d.problem.electrode.tip_radius = v.number / 2; }},
      {.path = "electrode.tip_shape",
       .form = choice({"flat", "domed"}),
       .meaning = "Word for the radius of the tip's face: flat as ground and dressed tips are, "
                  "51 mm; domed as filed or worn ones, 5 tip diameters.",
       .standard = {"domed", "copper tips wear round; common practice, no source"},
       .set = [](Draft& d, const Value& v) { d.flat_tip = v.text == "flat"; }},
      {.path = "electrode.face_crown",
       .form = quantity("um", 1e-8, 0.01),
       .meaning = "How far the middle of the tip's face stands out over its edge, another way to "
                  "give face_radius.",
       .rule_in_words = "left out: from face_radius",
       .set = [](Draft& d, const Value& v) { d.face_crown = v.number; }},
      {.path = "electrode.face_radius",
       .form = quantity("mm", 1e-5, 1e3),
       .meaning = "Radius of curvature of the tip's face.",
       .spread = {"log-normal 1.3", "filed by hand, and worn; engineering judgement"},
       .rule =
           [](const Draft& d) {
             const double tip = d.problem.electrode.tip_radius;
             if (d.face_crown > 0)
               return Standard{
                   millimetres((tip * tip + d.face_crown * d.face_crown) / (2 * d.face_crown)),
                   "from electrode.face_crown"};
             if (d.flat_tip)
               return Standard{"51 mm",
                               "2 in, which resistance-welding handbooks allow in place of a flat "
                               "face (RWMA tables for steel sheet)"};
             return Standard{millimetres(10 * tip),
                             "5 tip diameters: filed or worn round; engineering judgement, matters "
                             "little below 50 mm"};
           },
       .rule_in_words = "from face_crown if that is given; flat: 51 mm; domed: 5 tip diameters",
       .set = [](Draft& d, const Value& v) { d.problem.electrode.face_radius = v.number; }},
      {.path = "electrode.taper_angle",
       .form = quantity("deg", 0, 80 * 3.14159265358979323846 / 180),
       .meaning = "Angle between the cone behind the tip and the axis; 0 deg: no cone, the rod is "
                  "as thick as the tip.",
       .standard = {"30 deg", "common practice, no source"},
       .set = [](Draft& d, const Value& v) { d.problem.electrode.taper_angle = v.number; }},
      {.path = "electrode.body_diameter",
       .form = quantity("mm", 5e-5, 0.05),
       .meaning = "Diameter of the rod behind the cone.",
       .rule =
           [](const Draft& d) {
             const double tip = d.problem.electrode.tip_radius;
             if (d.problem.electrode.taper_angle == 0)
               return Standard{millimetres(2 * tip), "no cone: as the tip"};
             if (tip > 1.5e-3)
               return Standard{millimetres(2 * tip), "the tip is wider than the usual 3 mm rod"};
             return Standard{"3 mm", "common practice, no source"};
           },
       .rule_in_words = "3 mm, at least the tip; as the tip if taper_angle is 0 deg",
       .set = [](Draft& d, const Value& v) { d.problem.electrode.body_radius = v.number / 2; }},
      {.path = "electrode.length",
       .form = quantity("mm", 1e-4, 0.2),
       .meaning = "Length that is computed, from the face to where the holder takes over.",
       .standard = {"6 mm", "heat travels 3 mm in copper within 20 ms; engineering judgement"},
       .set = [](Draft& d, const Value& v) { d.problem.electrode.length = v.number; }},
      {.path = "electrode.rod_length",
       .form = quantity("mm", 0, 1),
       .meaning = "Length of the rod behind the computed part, up to where the lead is clamped on; "
                  "adds its resistance to the loop.",
       .standard = {"0 mm", "counted with the joints; engineering judgement"},
       .set = [](Draft& d, const Value& v) { d.rod_length = v.number; }},
  };
}

std::vector<Key> can_keys() {
  std::vector<Key> keys{
      {.path = "can.material",
       .form = {Kind::material},
       .meaning = "Material of the can.",
       .standard = {"low-carbon-steel",
                    "nickel-plated deep-drawing steel; common practice, no source"},
       .set = [](Draft& d, const Value& v) { d.can.material = v.material; }},
      {.path = "can.thickness",
       .form = quantity("mm", 2e-5, 0.05),
       .meaning = "Thickness of the bottom or cap where it is welded.",
       .required = true,
       .spread = {"15 %", "bottoms of one size 0.25 to 0.40 mm; measure yours"},
       .rule = [](const Draft& d) -> std::optional<Standard> {
         const auto preset = d.preset();
         if (!preset) return std::nullopt;
         return Standard{preset->can_thickness, preset->thickness_reason};
       },
       .rule_in_words = "from cell.size and cell.end; required without [cell]",
       .set = [](Draft& d, const Value& v) { d.can.thickness = v.number; }},
      {.path = "can.rim_radius",
       .form = quantity("mm", smallest_sheet / 5, largest_sheet),
       .meaning = "Where the can's current is grounded: effective radius that gives one electrode "
                  "the resistance of two.",
       .rule = can_rim,
       .rule_in_words =
           "d (4 b^2 + d^2)/(4 b^2 - d^2) with d = arrangement.spacing, b = can.radius; "
           "opposed: can.radius",
       .set = [](Draft& d, const Value& v) { d.can.rim_radius = v.number; }},
      {.path = "can.radius",
       .form = quantity("mm", smallest_sheet / 5, largest_sheet),
       .meaning = "Radius of the can's disc and of the layers inside; at least rim_radius.",
       .rule = can_radius,
       .rule_in_words = "can.rim_radius if that is given; else from cell.size and cell.end, 9 mm "
                        "without [cell]",
       .set = [](Draft& d, const Value& v) { d.can.radius = v.number; }},
  };
  for (Key& key : keys)
    key.applies = {[](const Draft& d) { return d.has_can(); },
                   "[cell] or [can] is given, or a single [strip]"};
  return keys;
}

std::vector<Key> strip_keys() {
  return {
      {.path = "strip.name",
       .form = {Kind::text},
       .meaning = "Name of the strip, for tables and probes.",
       .rule = [](const Draft& d) -> std::optional<Standard> {
         if (d.strip_count < 2) return std::nullopt;
         return Standard{fmt::format("strip {}", d.strips.size()), "its number from the top"};
       },
       .rule_in_words = "strip; strip 1, strip 2, ... from the top if there are several",
       .set = [](Draft& d, const Value& v) { d.strip().sheet.name = v.text; }},
      {.path = "strip.material",
       .form = {Kind::material},
       .meaning = "Material of the strip.",
       .standard = {"nickel-200", "commercial pure nickel strip; common practice, no source"},
       .set = [](Draft& d, const Value& v) { d.strip().sheet.material = v.material; }},
      {.path = "strip.thickness",
       .form = quantity("mm", 5e-6, 2e-3),
       .meaning = "Thickness of the strip.",
       .standard = {"0.15 mm", "usual strip 0.1 to 0.2 mm; common practice, no source"},
       .spread = {"5 %", "rolled strip; engineering judgement"},
       .set = [](Draft& d, const Value& v) { d.strip().sheet.thickness = v.number; }},
      {.path = "strip.width",
       .form = quantity("mm", 5e-4, 10),
       .meaning = "Width of the strip.",
       .standard = {"8 mm", "usual strip 7 to 8 mm; common practice, no source"},
       .set = [](Draft& d, const Value& v) { d.strip().width = v.number; }},
      {.path = "strip.direction",
       .form = choice({"along", "across"}),
       .meaning = "How the pair of electrodes lies on the strip.",
       .standard = {"along", "common practice, no source"},
       .applies = for_a_pair(),
       .set = [](Draft& d, const Value& v) { d.strip().across = v.text == "across"; }},
      {.path = "strip.slit",
       .form = {Kind::boolean},
       .meaning = "Whether a slit between the electrodes keeps the current from returning through "
                  "the strip.",
       .rule =
           [](const Draft& d) {
             return d.side_by_side()
                        ? Standard{"false", "plain strip; common practice, no source"}
                        : Standard{"true", "opposed: no current returns through the strip"};
           },
       .rule_in_words = "false; opposed: true, as no current returns through the strip",
       .set = [](Draft& d, const Value& v) { d.strip().sheet.slit = v.flag; }},
      {.path = "strip.slit_length",
       .form = quantity("mm", 1e-4, 0.1),
       .meaning = "Length of the slit, half way between the electrodes and at right angles to the "
                  "line that joins them; some current returns around its ends.",
       .rule_in_words = "left out: the slit parts the strip, no current returns through it",
       .applies = {[](const Draft& d) { return d.side_by_side() && d.strip().sheet.slit; },
                   "strip.slit = true and arrangement.kind = \"side by side\""},
       .set = [](Draft& d, const Value& v) { d.strip().slit_length = v.number; }},
      {.path = "strip.rim_radius",
       .form = quantity("mm", smallest_sheet / 5, largest_sheet),
       .meaning =
           "Where the strip's current is grounded: effective radius that gives one electrode "
           "the resistance of two; no current crosses it if the strip is slit.",
       .rule = strip_rim,
       .rule_in_words = "along: (w/pi) sinh(pi d/w), across: (2 w/pi) tan(pi d/(2 w)) with d = "
                        "arrangement.spacing, w = strip.width; longer with strip.slit_length; "
                        "opposed: strip.radius",
       .set = [](Draft& d, const Value& v) { d.strip().sheet.rim_radius = v.number; }},
      {.path = "strip.radius",
       .form = quantity("mm", smallest_sheet / 5, largest_sheet),
       .meaning = "Radius of the strip that is computed; at least rim_radius.",
       .rule = strip_radius,
       .rule_in_words = "strip.rim_radius if that is given; else can.radius, at least rim_radius",
       .set = [](Draft& d, const Value& v) { d.strip().sheet.radius = v.number; }},
  };
}

}  // namespace tabmelt::schema
