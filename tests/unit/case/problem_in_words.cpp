#include "tests/unit/case/problem_in_words.h"

#include <sstream>
#include <type_traits>

namespace tabmelt::testing {
namespace {

class Writer {
 public:
  template <typename... Values>
  void line(const std::string& name, const Values&... values) {
    text_ << name;
    (put(values), ...);
    text_ << '\n';
  }
  std::string text() const { return text_.str(); }

 private:
  template <typename T>
  void put(const T& value) {
    if constexpr (std::is_enum_v<T>)
      text_ << ' ' << static_cast<int>(value);
    else
      text_ << ' ' << std::hexfloat << value;
  }
  template <typename T>
  void put(const std::optional<T>& value) {
    if (value)
      put(*value);
    else
      text_ << " unset";
  }
  void put(const std::vector<double>& values) {
    for (const double value : values) put(value);
  }
  void put(const Curve& curve) {
    put(curve.temperature);
    text_ << " :";
    put(curve.value);
  }

  std::ostringstream text_;
};

void write(Writer& w, const std::string& part, const Material& m) {
  w.line(part, m.name, m.description);
  w.line("density", m.density, m.radial_conductivity_ratio);
  w.line("specific heat", m.specific_heat, m.specific_heat_liquid);
  w.line("conductivity", m.thermal_conductivity, m.thermal_conductivity_liquid);
  w.line("resistivity", m.resistivity, m.resistivity_liquid);
  if (m.melting) w.line("melting", m.melting->solidus, m.melting->liquidus, m.melting->latent_heat);
  for (const auto& t : m.transformations) w.line("transformation", t.from, t.to, t.latent_heat);
  if (m.boiling) w.line("boiling", m.boiling->temperature, m.boiling->latent_heat);
  w.line("hardness", m.hardness, m.hardness_ratio, m.softening_temperature, m.tensile_strength);
  for (const auto& s : m.sources) w.line("source", s.property, s.source, s.from, s.to);
}

void write(Writer& w, const std::string& name, const Contact& c) {
  w.line(name, c.radius, c.roughness, c.slope, c.film_resistance, c.hardness);
  if (c.fixed) w.line("fixed", c.fixed->area_resistance, c.fixed->area_conductance);
}

void write(Writer& w, const circuit::Circuit& c) {
  if (const auto* bank = std::get_if<circuit::CapacitorBank>(&c.source))
    w.line("bank", bank->part_capacitance, bank->part_esr, bank->series, bank->parallel,
           bank->charge_voltage, bank->rated_voltage, bank->rated_current, bank->tolerance,
           bank->esr_factor, bank->esr_spread, bank->supercapacitor ? 1 : 0, bank->balancing,
           bank->rated_ripple, bank->thermal_resistance);
  if (const auto* battery = std::get_if<circuit::Battery>(&c.source))
    w.line("battery", battery->open_circuit_voltage, battery->internal_resistance,
           battery->rated_current, battery->cut_off_current, battery->cut_off_delay);
  if (const auto* supply = std::get_if<circuit::BenchSupply>(&c.source))
    w.line("supply", supply->voltage, supply->current_limit, supply->internal_resistance,
           supply->output_capacitance, supply->output_esr);
  if (const auto* pulse = std::get_if<circuit::ExponentialCurrent>(&c.source))
    w.line("exponential", pulse->peak, pulse->time_constant);
  if (const auto* trace = std::get_if<circuit::TableCurrent>(&c.source))
    w.line("trace", trace->time, trace->current);
  w.line("leads", c.leads.material, c.leads.cross_section, c.leads.length, c.leads.spacing,
         c.leads.resistance, c.leads.inductance, c.leads.flexible ? 1 : 0);
  for (const auto& piece : c.pieces)
    w.line("piece", piece.name, piece.length, piece.cross_section, piece.resistivity, piece.count,
           piece.inductance, piece.heat_capacity, piece.temperature_coefficient);
  for (const auto& joint : c.joints) w.line("joint", joint.name, joint.resistance);
  const circuit::Switch& s = c.power_switch;
  w.line("switch", s.on_resistance, s.kind, s.forward_drop, s.parallel, s.turn_off_time,
         s.rated_voltage, s.avalanche_energy, s.protection, s.clamp_voltage, s.diode_drop);
  for (const auto& pulse : c.power_switch.train) w.line("pulse", pulse.on, pulse.off);
  w.line("extra", c.extra_resistance, c.extra_inductance);
  w.line("work", c.handling_time, c.weld_rate);
  if (c.charger)
    w.line("charger", c.charger->current_limit, c.charger->set_voltage,
           c.charger->series_resistance);
}

}  // namespace

std::string in_words(const Problem& p) {
  Writer w;
  w.line("name", p.name);
  w.line("electrode", p.electrode.tip_radius, p.electrode.body_radius, p.electrode.taper_angle,
         p.electrode.length, p.electrode.face_radius);
  write(w, "electrode material", *p.electrode.material);
  w.line("lowest sheet", p.on_can);
  for (const Sheet& sheet : p.sheets) {
    w.line(sheet.name, sheet.thickness, sheet.slit, sheet.rim_radius, sheet.radius);
    write(w, "its material", *sheet.material);
  }
  for (const auto& layer : p.inner) {
    w.line("layer", layer.name, layer.thickness, layer.limit, layer.molten_limit,
           layer.damage_limit, layer.limit_reason);
    write(w, "layer material", *layer.material);
  }
  for (const Contact& contact : p.contacts) write(w, "contact", contact);
  w.line("pressing", p.pressing.closing, p.pressing.force, p.pressing.approach_speed,
         p.pressing.tip_stiffness, p.pressing.height_difference, p.pressing.moving_mass,
         p.pressing.restitution, p.pressing.impact_time, p.pressing.judged);
  w.line("arrangement", p.arrangement.spots, p.arrangement.spacing);
  w.line("sequence", p.sequence.welds, p.sequence.pause, p.sequence.cell_radius,
         p.sequence.cell_length);
  write(w, p.circuit);
  w.line("boundary", p.boundary.ambient, p.boundary.electrode_end, p.boundary.rim,
         p.boundary.bottom);
  if (p.cell_limits) w.line("limits", p.cell_limits->inner_wall.value_or(0), p.cell_limits->reason);
  for (const auto& probe : p.probes) w.line("probe", probe.name, probe.part, probe.r, probe.z);
  const Numerics& n = p.numerics;
  w.line("numerics", n.resolution, n.step_tolerance, n.first_step, n.longest_step, n.end_time,
         n.longest_run, n.linear_tolerance, n.newton_tolerance, n.newton_limit,
         n.coupling_tolerance, n.coupling_limit, n.frames);
  return w.text();
}

}  // namespace tabmelt::testing
