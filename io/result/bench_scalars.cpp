#include "io/result/bench_scalars.h"

namespace tabmelt {
namespace {

class Numbers {
 public:
  void add(const std::string& name, double value, const std::string& units,
           const std::string& long_name) {
    list_.push_back({name, value, units, long_name});
  }
  void add(const std::string& name, const std::optional<double>& value, const std::string& units,
           const std::string& long_name) {
    if (value) add(name, *value, units, long_name);
  }
  std::vector<Scalar> list() && { return std::move(list_); }

 private:
  std::vector<Scalar> list_;
};

void add_source(const circuit::Source& source, const BenchFigures& f, Numbers& out) {
  const circuit::SourceReport& s = f.source;
  if (std::holds_alternative<circuit::ExponentialCurrent>(source) ||
      std::holds_alternative<circuit::TableCurrent>(source))
    return;
  out.add("source_droop", s.droop, "1", "voltage lost, or largest drop, over that without load");
  out.add("source_peak_part_current", s.peak_part_current, "A", "peak current of one part");
  if (const auto* supply = std::get_if<circuit::BenchSupply>(&source);
      supply && supply->output_capacitance > 0)
    out.add("source_surge", s.surge, "A", "peak current above the limit, from output capacitor");
  if (!s.is_bank) return;
  out.add("source_energy_left", s.energy_left, "J", "left in the bank");
  out.add("source_worst_part_current", s.worst_part_current, "A", "peak of one part, worst spread");
  out.add("source_part_voltage", s.part_voltage, "V", "one part, charged, all alike");
  out.add("source_worst_part_voltage", s.worst_part_voltage, "V", "one part, worst spread");
  out.add("source_reverse_part_voltage", s.reverse_part_voltage, "V",
          "deepest reverse voltage of one part");
  out.add("source_least_energy", s.least_energy, "J", "stored, capacitance at its low end");
  out.add("source_most_energy", s.most_energy, "J", "stored, capacitance at its high end");
}

void add_conductors(const BenchFigures& f, Numbers& out) {
  out.add("lead_pulse_rise", f.lead_pulse_rise, "K", "leads, in one pulse");
  out.add("lead_steady_rise", f.lead_steady_rise, "K", "leads, at the rate of welds");
  for (std::size_t n = 0; n < f.pieces.size(); ++n) {
    const LoadedPiece& piece = f.pieces[n];
    const std::string name = "conductor_" + std::to_string(n);
    out.add(name + "_resistance", piece.resistance, "ohm", "cold: " + piece.name);
    out.add(name + "_pulse_energy", piece.load.pulse_energy, "J", "each weld: " + piece.name);
    out.add(name + "_pulse_rise", piece.load.pulse_rise, "K", "in one pulse: " + piece.name);
    out.add(name + "_mean_power", piece.load.mean_power, "W", "rate of welds: " + piece.name);
    out.add(name + "_steady_rise", piece.load.steady_rise, "K", "rate of welds: " + piece.name);
  }
  for (std::size_t n = 0; n < f.joints.size(); ++n) {
    const std::string name = "joint_" + std::to_string(n);
    out.add(name + "_pulse_energy", f.joints[n].pulse_energy, "J",
            "each weld: " + f.joints[n].name);
    out.add(name + "_mean_power", f.joints[n].mean_power, "W",
            "rate of welds: " + f.joints[n].name);
  }
}

void add_switch(const BenchFigures& f, Numbers& out) {
  out.add("switch_part_energy", f.switch_part_energy, "J", "one part, each weld, conducting");
  out.add("switch_part_power", f.switch_part_power, "W", "one part, at the rate of welds");
  if (!f.turn_off) return;
  const circuit::TurnOff& off = *f.turn_off;
  out.add("switch_opening_current", f.opening_current, "A", "largest current it opened");
  out.add("switch_opening_time", f.opening_time, "s", "when it opened that");
  out.add("switch_held_energy", off.held_energy, "J", "held by the inductance then");
  if (off.bounded)
    out.add("switch_peak_voltage", off.peak_voltage, "V", "largest over the opening switch");
  out.add("switch_avalanche_energy", off.avalanche_energy, "J", "in breakdown, all parts");
  out.add("switch_part_avalanche_use", off.part_avalanche_use, "1",
          "breakdown energy over its rating, shared evenly");
  out.add("switch_worst_avalanche_use", off.worst_avalanche_use, "1",
          "breakdown energy over its rating, one part takes all");
  out.add("switch_clamp_energy", off.clamp_energy, "J", "in the clamp");
  if (!off.freewheel) return;
  out.add("switch_diode_energy", off.freewheel->diode_energy, "J", "in the free-wheel diode");
  out.add("switch_freewheel_time", off.freewheel->time, "s", "until the current has died");
}

void add_charging(const BenchFigures& f, Numbers& out) {
  if (f.charge) {
    const circuit::Charge& c = *f.charge;
    out.add("charge_time", c.time, "s", "until 99 % of the supply's voltage");
    out.add("charge_constant_current_time", c.constant_current_time, "s", "at the current limit");
    out.add("charge_stored", c.stored, "J", "gained by the bank");
    out.add("charge_lost", c.lost, "J", "heat in resistor and bank");
    out.add("charge_peak_resistor_power", c.peak_power, "W", "largest in resistor and bank");
    out.add("charge_mean_resistor_power", c.mean_power(), "W", "mean in resistor and bank");
    out.add("charge_peak_supply_power", c.peak_supply_power, "W", "largest from the supply");
    out.add("charge_efficiency", c.efficiency(), "1", "stored over given by the supply");
  }
  out.add("welds_per_minute", f.welds_per_minute, "1/min", "charging and handling");
  if (!f.part_load) return;
  out.add("capacitor_ripple_current", f.part_load->ripple_current, "A", "one part, r.m.s.");
  out.add("capacitor_power", f.part_load->power, "W", "heat in one part at the rate of welds");
  out.add("capacitor_rise", f.part_load->rise, "K", "of one part at the rate of welds");
}

void add_sequence(const BenchFigures& f, Numbers& out) {
  if (!f.rise_before_last) return;
  out.add("sequence_weld_heat", f.weld_heat, "J", "left by all spots of one weld");
  out.add("sequence_rise_before_last", f.rise_before_last, "K", "of the end before its last weld");
  out.add("sequence_allowed_rise", f.allowed_rise, "K", "until a layer reaches its limit");
  out.add("sequence_shortest_pause", f.shortest_pause, "s", "shortest safe pause");
}

}  // namespace

std::vector<Scalar> bench_scalars(const Problem& problem, const BenchFigures& f) {
  Numbers out;
  out.add("square_current_time", f.square_current_time, "A2 s", "integral of the current squared");
  add_source(problem.circuit.source, f, out);
  add_conductors(f, out);
  add_switch(f, out);
  add_charging(f, out);
  add_sequence(f, out);
  return std::move(out).list();
}

}  // namespace tabmelt
