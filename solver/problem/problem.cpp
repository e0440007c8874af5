#include "solver/problem/problem.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "solver/material/constants.h"
#include "solver/problem/circuit_complaints.h"
#include "solver/problem/complaint_list.h"

namespace tabmelt {
namespace {

constexpr double slack = 1e-9;  // relative, for sizes that are meant to be equal

std::string layer_key(std::size_t n) { return "layer " + std::to_string(n + 1); }

// Keys of the sheet with this number in a case file.
std::string sheet_key(const Problem& p, std::size_t n) {
  if (p.on_can && n + 1 == p.sheets.size()) return "can";
  const std::size_t strips = p.sheets.size() - (p.on_can ? 1 : 0);
  return strips == 1 ? "strip" : "strip " + std::to_string(n + 1);
}

void check_materials(const Problem& p, ComplaintList& list) {
  const auto cold = [&](const MaterialPtr& material, const std::string& key) {
    if (material && material->melting && material->melting->solidus <= p.boundary.ambient)
      list.add(key + ", boundary.ambient", "\"" + material->name + "\" is molten at " +
                                               in_celsius(p.boundary.ambient) +
                                               ", before the pulse");
  };
  const auto conductor = [&](const MaterialPtr& material, const std::string& key) {
    if (!material) return list.add(key, "no material");
    list.unless(material->conducts_current(), key,
                "\"" + material->name + "\" has no resistivity, but this part carries the current");
  };
  conductor(p.electrode.material, "electrode.material");
  for (std::size_t n = 0; n < p.sheets.size(); ++n)
    conductor(p.sheets[n].material, sheet_key(p, n) + ".material");
  cold(p.electrode.material, "electrode.material");
  for (std::size_t n = 0; n < p.sheets.size(); ++n)
    cold(p.sheets[n].material, sheet_key(p, n) + ".material");
  for (std::size_t n = 0; n < p.inner.size(); ++n) {
    if (!p.inner[n].material) list.add(layer_key(n), "no material");
    cold(p.inner[n].material, layer_key(n));
  }
}

void check_electrode(const Electrode& e, ComplaintList& list) {
  list.positive(e.tip_radius, "electrode.tip_diameter");
  list.positive(e.body_radius, "electrode.body_diameter");
  list.positive(e.length, "electrode.length");
  const double wider = e.body_radius - e.tip_radius;
  if (wider < -slack * e.tip_radius)
    return list.add("electrode.body_diameter, electrode.tip_diameter",
                    "the rod (" + in_millimetres(2 * e.body_radius) +
                        ") is narrower than its tip (" + in_millimetres(2 * e.tip_radius) + ")");
  list.unless(e.taper_angle >= 0 && e.taper_angle < constants::pi / 2, "electrode.taper_angle",
              "must be at least 0 deg and below 90 deg");
  if (wider <= slack * e.tip_radius) return;
  if (e.taper_angle == 0)
    return list.add("electrode.taper_angle, electrode.body_diameter",
                    "without a cone (0 deg) the rod must be as thick as the tip, but it is wider");
  const double cone = wider / std::tan(e.taper_angle);
  if (cone > e.length * (1 + slack))
    list.add("electrode.length, electrode.taper_angle",
             "the cone alone is " + in_millimetres(cone) + " long, longer than the electrode (" +
                 in_millimetres(e.length) + ")");
}

double widest_contact(const Problem& p) {
  double radius = p.electrode.tip_radius;
  for (const Contact& contact : p.contacts) radius = std::max(radius, contact.radius);
  return radius;
}

void check_sheets(const Problem& p, ComplaintList& list) {
  const double contact = widest_contact(p);
  for (std::size_t n = 0; n < p.sheets.size(); ++n)
    list.positive(p.sheets[n].thickness, sheet_key(p, n) + ".thickness");
  for (std::size_t n = 0; n < p.sheets.size(); ++n) {
    const Sheet& sheet = p.sheets[n];
    const std::string part = sheet_key(p, n);
    list.positive(sheet.rim_radius, part + ".rim_radius");
    list.positive(sheet.radius, part + ".radius");
    if (sheet.rim_radius <= contact)
      list.add(part + ".rim_radius", "at " + in_millimetres(sheet.rim_radius) +
                                         " lies inside the contact, whose radius is " +
                                         in_millimetres(contact));
    if (sheet.rim_radius > sheet.radius * (1 + slack))
      list.add(part + ".radius, " + part + ".rim_radius",
               "the " + part + " ends at " + in_millimetres(sheet.radius) +
                   ", inside its rim_radius of " + in_millimetres(sheet.rim_radius));
  }
}

void check_arrangement(const Problem& p, ComplaintList& list) {
  if (p.arrangement.spots == 1) return;
  if (p.arrangement.spots != 2)
    return list.add("arrangement.kind",
                    "one or two electrodes, not " + std::to_string(p.arrangement.spots));
  const double spacing = p.arrangement.spacing;
  list.positive(spacing, "arrangement.spacing");
  if (2 * p.electrode.tip_radius >= spacing)
    list.add("electrode.tip_diameter, arrangement.spacing",
             "tips of " + in_millimetres(2 * p.electrode.tip_radius) + " with axes " +
                 in_millimetres(spacing) + " apart touch each other");
  // Only a cell has an edge to fall off; a pure check may end its sheets where it likes.
  const bool cell = p.cell_limits.has_value() || !p.inner.empty();
  if (cell && p.on_can && spacing / 2 + p.electrode.tip_radius > p.base().radius)
    list.add("arrangement.spacing, can.radius",
             "electrodes " + in_millimetres(spacing) +
                 " apart do not fit on the can, whose radius is " +
                 in_millimetres(p.base().radius));
}

// A touching part: its material, and the key that names it.
struct Side {
  MaterialPtr material;
  std::string key;
};

void check_contact(const Contact& c, const std::string& at, const std::vector<Side>& sides,
                   ComplaintList& list) {
  list.positive(c.radius, at + ".radius");
  if (c.fixed) {
    list.not_negative(c.fixed->area_resistance, at + ".area_resistance");
    list.positive(c.fixed->area_conductance, at + ".area_conductance");
    return;
  }
  list.positive(c.roughness, at + ".roughness");
  list.positive(c.slope, at + ".slope");
  list.not_negative(c.film_resistance, at + ".film_resistance");
  if (c.hardness) return list.positive(*c.hardness, at + ".hardness");
  for (const Side& side : sides)
    if (side.material && !side.material->hardness)
      list.add(at + ".hardness, " + at + ".law, " + side.key,
               "material \"" + side.material->name +
                   "\" has no hardness, which the constriction law needs; give " + at +
                   ".hardness or the material's hardness, or take the fixed law");
}

void check_contacts(const Problem& p, ComplaintList& list) {
  Side upper{p.electrode.material, "electrode.material"};
  for (std::size_t n = 0; n < p.contacts.size(); ++n) {
    const Side lower{p.sheets[n].material, sheet_key(p, n) + ".material"};
    check_contact(p.contacts[n], n == 0 ? "contact.tip" : "contact.faying", {upper, lower}, list);
    upper = lower;
  }
  const double face = p.under_tip().radius;
  if (face > p.electrode.tip_radius * (1 + slack))
    list.add("contact.tip.radius, electrode.tip_diameter",
             "the touching face (radius " + in_millimetres(face) +
                 ") is wider than the tip (radius " + in_millimetres(p.electrode.tip_radius) + ")");
}

void check_landing(const Problem& p, ComplaintList& list) {
  const Pressing& pressing = p.pressing;
  list.positive(pressing.approach_speed, "pressing.approach_speed");
  list.positive(pressing.tip_stiffness, "pressing.tip_stiffness");
  list.not_negative(pressing.height_difference, "pressing.height_difference");
  list.unless(!(pressing.height_difference > 0) || p.arrangement.spots == 2,
              "pressing.height_difference, arrangement.kind",
              "a single electrode has no second tip to land later");
  list.not_negative(pressing.moving_mass, "pressing.moving_mass");
  list.unless(pressing.restitution >= 0 && pressing.restitution < 1, "pressing.restitution",
              "must be at least 0 and below 1: an impact without loss would bounce for ever");
  if (pressing.moving_mass > 0) list.positive(pressing.impact_time, "pressing.impact_time");
}

void check_pressing(const Problem& p, ComplaintList& list) {
  list.positive(p.pressing.force, "pressing.force");
  if (p.pressing.closing != Closing::unswitched) return;
  check_landing(p, list);
  list.unless(!circuit::current_is_prescribed(p.circuit.source), "pressing.closing, source.kind",
              "unswitched closing needs a bank or a battery: a prescribed current does not answer "
              "to the first touch");
}

// A bank empties itself; a battery or a supply would heat the cell for as long as it is connected.
void check_end_of_current(const Problem& p, ComplaintList& list) {
  const bool cell = p.cell_limits.has_value() || !p.inner.empty();
  const circuit::Switch& part = p.circuit.power_switch;
  const bool opens = part.kind != circuit::SwitchKind::thyristor && !part.train.empty();
  if (!cell || opens) return;
  const auto* battery = std::get_if<circuit::Battery>(&p.circuit.source);
  const bool endless = battery ? !battery->cut_off_current
                               : std::holds_alternative<circuit::BenchSupply>(p.circuit.source);
  if (!endless) return;
  const bool thyristor = part.kind == circuit::SwitchKind::thyristor;
  list.add("switch.kind, switch.pulses, source.kind",
           std::string("nothing ever ends the current of this ") +
               (battery ? "battery" : "supply") +
               (thyristor ? ": a thyristor goes out only when the current comes to zero"
                          : "; give switch.main (or switch.pulses), even if it is your hand") +
               (battery ? ", or source.cut_off_current" : ""));
}

void check_inside(const Problem& p, ComplaintList& list) {
  std::set<std::string> names{"electrode"};
  for (std::size_t n = 0; n < p.sheets.size(); ++n)
    list.unless(names.insert(p.sheets[n].name).second, sheet_key(p, n) + ".name",
                "the name \"" + p.sheets[n].name + "\" is taken");
  for (std::size_t n = 0; n < p.inner.size(); ++n) {
    const InnerLayer& layer = p.inner[n];
    list.positive(layer.thickness, layer_key(n));
    list.unless(!layer.name.empty(), layer_key(n), "needs a name");
    list.unless(names.insert(layer.name).second, layer_key(n),
                "the name \"" + layer.name + "\" is taken");
    if (layer.limit && *layer.limit <= p.boundary.ambient)
      list.add(layer_key(n), "its limit of " + in_celsius(*layer.limit) +
                                 " is exceeded before the pulse, at " +
                                 in_celsius(p.boundary.ambient));
  }
  if (p.cell_limits && p.cell_limits->inner_wall &&
      *p.cell_limits->inner_wall <= p.boundary.ambient)
    list.add("limits.inner_wall, boundary.ambient",
             "the limit of " + in_celsius(*p.cell_limits->inner_wall) +
                 " is exceeded before the pulse, at " + in_celsius(p.boundary.ambient));
}

// Regions of the grid are numbered in one byte: empty space, the electrode, then these.
void check_number_of_parts(const Problem& p, ComplaintList& list) {
  const std::size_t parts = p.sheets.size() + p.inner.size();
  list.unless(parts <= most_parts, p.inner.empty() ? "strip" : "layer 1",
              std::to_string(parts) + " sheets and layers are too many; allowed are at most " +
                  std::to_string(most_parts) + " together");
}

void check_sequence(const WeldSequence& sequence, ComplaintList& list) {
  list.unless(sequence.welds >= 1, "cell.spots", "must be at least 1");
  list.unless(sequence.welds <= 1 || sequence.pause > 0, "cell.pause, cell.spots",
              "several spots need a pause between them");
  list.not_negative(sequence.cell_radius, "cell.size");
  list.not_negative(sequence.cell_length, "cell.size");
}

// Outer radius of a part at a height, negative if the height is outside it; nothing: no such part.
std::optional<double> radius_at(const Problem& p, const std::string& part, double z) {
  const auto within = [z](double low, double high) {
    const double reach = slack * std::max(std::abs(low), std::abs(high));
    return z >= low - reach && z <= high + reach;
  };
  const double face = p.stack_height();
  if (part == "electrode") {
    const Electrode& e = p.electrode;
    if (!within(face, face + e.length)) return -1;
    const double above = std::max(z - face, 0.0);
    return std::min(e.body_radius, e.tip_radius + above * std::tan(e.taper_angle));
  }
  double top = face;
  for (const Sheet& sheet : p.sheets) {
    if (sheet.name == part) return within(top - sheet.thickness, top) ? sheet.radius : -1;
    top -= sheet.thickness;
  }
  top = -p.base().thickness;
  for (const InnerLayer& layer : p.inner) {
    if (layer.name == part) return within(top - layer.thickness, top) ? p.base().radius : -1;
    top -= layer.thickness;
  }
  return std::nullopt;
}

void check_probes(const Problem& p, ComplaintList& list) {
  std::set<std::string> names;
  for (std::size_t n = 0; n < p.probes.size(); ++n) {
    const Probe& probe = p.probes[n];
    const std::string key = "probe " + std::to_string(n + 1);
    list.unless(!probe.name.empty(), key, "needs a name");
    list.unless(names.insert(probe.name).second, key, "the name \"" + probe.name + "\" is taken");
    const auto radius = radius_at(p, probe.part, probe.z);
    if (!radius) {
      std::string parts = "electrode";
      for (const Sheet& sheet : p.sheets) parts += ", " + sheet.name;
      for (const InnerLayer& layer : p.inner) parts += ", " + layer.name;
      list.add(key, "there is no part \"" + probe.part + "\"; known are " + parts);
    } else if (*radius < 0) {
      list.add(key,
               "z = " + in_millimetres(probe.z) + " lies outside the part \"" + probe.part + "\"");
    } else if (!(probe.r >= 0 && probe.r <= *radius * (1 + slack))) {
      list.add(key, "r = " + in_millimetres(probe.r) + " lies outside the part \"" + probe.part +
                        "\", which ends at " + in_millimetres(*radius));
    }
  }
}

void check_numerics(const Numerics& n, ComplaintList& list) {
  list.positive(n.resolution, "numerics.resolution");
  list.positive(n.step_tolerance, "numerics.step_tolerance");
  list.positive(n.first_step, "numerics.first_step");
  list.positive(n.longest_step, "numerics.longest_step");
  list.unless(n.longest_step >= n.first_step, "numerics.longest_step, numerics.first_step",
              "the longest step is shorter than the first");
  if (n.end_time) list.positive(*n.end_time, "numerics.end_time");
  list.positive(n.longest_run, "numerics.longest_run");
  list.positive(n.linear_tolerance, "numerics.linear_tolerance");
  list.positive(n.newton_tolerance, "numerics.newton_tolerance");
  list.positive(n.coupling_tolerance, "numerics.coupling_tolerance");
  list.unless(n.newton_limit >= 1, "numerics.newton_limit", "must be at least 1");
  list.unless(n.coupling_limit >= 1, "numerics.coupling_limit", "must be at least 1");
  list.unless(n.frames >= 1, "numerics.frames", "must be at least 1");
}

}  // namespace

double Problem::stack_above(std::size_t sheet) const {
  double height = 0;
  for (std::size_t n = 0; n < sheet; ++n) height += sheets[n].thickness;
  return height;
}

std::string joint_name(const Problem& p, std::size_t joint) {
  if (p.joints() == 1) return "faying surface";
  return p.sheets[joint].name + " on " + p.sheets[joint + 1].name;
}

std::vector<std::string> complaints(const Problem& problem) {
  ComplaintList list;
  if (problem.sheets.size() < 2 || problem.contacts.size() != problem.sheets.size()) {
    list.add("strip, can", "a weld needs two sheets or more, and a contact on each");
    return list.list();
  }
  list.positive(problem.boundary.ambient, "boundary.ambient");
  check_number_of_parts(problem, list);
  check_materials(problem, list);
  check_electrode(problem.electrode, list);
  check_sheets(problem, list);
  check_arrangement(problem, list);
  check_contacts(problem, list);
  check_pressing(problem, list);
  check_circuit(problem.circuit, list);
  check_end_of_current(problem, list);
  check_inside(problem, list);
  check_sequence(problem.sequence, list);
  check_probes(problem, list);
  check_numerics(problem.numerics, list);
  return list.list();
}

}  // namespace tabmelt
