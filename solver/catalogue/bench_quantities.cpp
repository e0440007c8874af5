#include "solver/catalogue/quantity_list.h"

namespace tabmelt {
namespace {

void add_source(const circuit::Source& source, const BenchFigures& f, QuantityList& out) {
  const circuit::SourceReport& s = f.source;
  if (std::holds_alternative<circuit::ExponentialCurrent>(source) ||
      std::holds_alternative<circuit::TableCurrent>(source))
    return;
  out.add("bench_source_droop", "1", "voltage lost, or largest drop, over that without load",
          s.droop);
  out.add("bench_source_peak_part_current", "A", "peak current of one part", s.peak_part_current);
  if (const auto* supply = std::get_if<circuit::BenchSupply>(&source);
      supply && supply->output_capacitance > 0)
    out.add("bench_source_surge", "A", "peak current above the limit, from output capacitor",
            s.surge);
  if (!s.is_bank) return;
  out.add("bench_source_energy_left", "J", "left in the bank", s.energy_left);
  out.add("bench_source_worst_part_current", "A", "peak of one part, worst spread",
          s.worst_part_current);
  out.add("bench_source_part_voltage", "V", "one part, charged, all alike", s.part_voltage);
  out.add("bench_source_worst_part_voltage", "V", "one part, worst spread", s.worst_part_voltage);
  out.add("bench_source_reverse_part_voltage", "V", "deepest reverse voltage of one part",
          s.reverse_part_voltage);
  out.add("bench_source_least_energy", "J", "stored, capacitance at its low end", s.least_energy);
  out.add("bench_source_most_energy", "J", "stored, capacitance at its high end", s.most_energy);
}

void add_conductors(const BenchFigures& f, QuantityList& out) {
  out.add("bench_lead_pulse_rise", "K", "leads, in one pulse", f.lead_pulse_rise);
  out.add("bench_lead_steady_rise", "K", "leads, at the rate of welds", f.lead_steady_rise);
  for (std::size_t n = 0; n < f.pieces.size(); ++n) {
    const LoadedPiece& piece = f.pieces[n];
    const std::string name = "conductor_" + std::to_string(n);
    out.add("bench_" + name + "_resistance", "ohm", "cold: " + piece.name, piece.resistance);
    out.add("bench_" + name + "_pulse_energy", "J", "each weld: " + piece.name,
            piece.load.pulse_energy);
    out.add("bench_" + name + "_pulse_rise", "K", "in one pulse: " + piece.name,
            piece.load.pulse_rise);
    out.add("bench_" + name + "_mean_power", "W", "rate of welds: " + piece.name,
            piece.load.mean_power);
    out.add("bench_" + name + "_steady_rise", "K", "rate of welds: " + piece.name,
            piece.load.steady_rise);
  }
  for (std::size_t n = 0; n < f.joints.size(); ++n) {
    const std::string name = "joint_" + std::to_string(n);
    out.add("bench_" + name + "_pulse_energy", "J", "each weld: " + f.joints[n].name,
            f.joints[n].pulse_energy);
    out.add("bench_" + name + "_mean_power", "W", "rate of welds: " + f.joints[n].name,
            f.joints[n].mean_power);
  }
}

void add_switch(const BenchFigures& f, QuantityList& out) {
  out.add("bench_switch_part_energy", "J", "one part, each weld, conducting", f.switch_part_energy);
  out.add("bench_switch_part_power", "W", "one part, at the rate of welds", f.switch_part_power);
  if (!f.turn_off) return;
  const circuit::TurnOff& off = *f.turn_off;
  out.add("bench_switch_opening_current", "A", "largest current it opened", f.opening_current);
  out.add("bench_switch_opening_time", "s", "when it opened that", f.opening_time);
  out.add("bench_switch_held_energy", "J", "held by the inductance then", off.held_energy);
  if (off.bounded)
    out.add("bench_switch_peak_voltage", "V", "largest over the opening switch", off.peak_voltage);
  out.add("bench_switch_avalanche_energy", "J", "in breakdown, all parts", off.avalanche_energy);
  out.add("bench_switch_part_avalanche_use", "1", "breakdown energy over its rating, shared evenly",
          off.part_avalanche_use);
  out.add("bench_switch_worst_avalanche_use", "1",
          "breakdown energy over its rating, one part takes all", off.worst_avalanche_use);
  out.add("bench_switch_clamp_energy", "J", "in the clamp", off.clamp_energy);
  if (!off.freewheel) return;
  out.add("bench_switch_diode_energy", "J", "in the free-wheel diode", off.freewheel->diode_energy);
  out.add("bench_switch_freewheel_time", "s", "until the current has died", off.freewheel->time);
}

void add_charging(const BenchFigures& f, QuantityList& out) {
  if (f.charge) {
    const circuit::Charge& c = *f.charge;
    out.add("bench_charge_time", "s", "until 99 % of the supply's voltage", c.time);
    out.add("bench_charge_constant_current_time", "s", "at the current limit",
            c.constant_current_time);
    out.add("bench_charge_stored", "J", "gained by the bank", c.stored);
    out.add("bench_charge_lost", "J", "heat in resistor and bank", c.lost);
    out.add("bench_charge_peak_resistor_power", "W", "largest in resistor and bank", c.peak_power);
    out.add("bench_charge_mean_resistor_power", "W", "mean in resistor and bank", c.mean_power());
    out.add("bench_charge_peak_supply_power", "W", "largest from the supply", c.peak_supply_power);
    out.add("bench_charge_efficiency", "1", "stored over given by the supply", c.efficiency());
  }
  out.add("bench_welds_per_minute", "1/min", "charging and handling", f.welds_per_minute);
  if (!f.part_load) return;
  out.add("bench_capacitor_ripple_current", "A", "one part, r.m.s.", f.part_load->ripple_current);
  out.add("bench_capacitor_power", "W", "heat in one part at the rate of welds",
          f.part_load->power);
  out.add("bench_capacitor_rise", "K", "of one part at the rate of welds", f.part_load->rise);
}

void add_sequence(const BenchFigures& f, QuantityList& out) {
  if (!f.rise_before_last) return;
  out.add("bench_sequence_weld_heat", "J", "left by all spots of one weld", f.weld_heat);
  out.add("bench_sequence_rise_before_last", "K", "of the end before its last weld",
          f.rise_before_last);
  out.add("bench_sequence_allowed_rise", "K", "until a layer reaches its limit", f.allowed_rise);
  out.add("bench_sequence_shortest_pause", "s", "shortest safe pause", f.shortest_pause);
}

}  // namespace

std::vector<Quantity> bench_quantities(const Problem& problem, const BenchFigures& f) {
  QuantityList out;
  out.topic(Topic::bench);
  out.add("bench_square_current_time", "A2 s", "integral of the current squared",
          f.square_current_time);
  add_source(problem.circuit.source, f, out);
  add_conductors(f, out);
  add_switch(f, out);
  add_charging(f, out);
  add_sequence(f, out);
  return std::move(out).list();
}

}  // namespace tabmelt
