#include "io/report/bench_sections.h"

#include <fmt/format.h>

#include <cmath>

#include "io/report/figures_table.h"
#include "solver/bench/bench_figures.h"
#include "solver/words/in_words.h"

namespace tabmelt::report {
namespace {

// Joints alike take one row.
void add_joints(const std::vector<LoadedJoint>& joints, Table& table) {
  for (std::size_t first = 0; first < joints.size();) {
    std::size_t next = first;
    while (next < joints.size() && joints[next].resistance == joints[first].resistance) ++next;
    const LoadedJoint& joint = joints[first];
    const std::size_t alike = next - first;
    table.add_row(
        {alike > 1 ? fmt::format("Heat in each of {} joints", alike) : "Heat in " + joint.name,
         in_words::energy(joint.pulse_energy),
         fmt::format("each weld, at {}", in_words::resistance(joint.resistance)) +
             (joint.mean_power ? fmt::format("; {:.3g} W at your rate of welds", *joint.mean_power)
                               : std::string())});
    first = next;
  }
}

Section leads_section(const Problem& problem, const BenchFigures& f) {
  Table table = figures_table();
  if (f.lead_pulse_rise)
    table.add_row(
        {"Leads warm up in one pulse", in_words::temperature_rise(*f.lead_pulse_rise),
         fmt::format("{:.3g} mm2 of {}, nothing lost meanwhile",
                     problem.circuit.leads.cross_section * 1e6, problem.circuit.leads.material)});
  if (f.lead_steady_rise)
    table.add_row(
        {"Leads warm up at your rate of welds", in_words::temperature_rise(*f.lead_steady_rise),
         fmt::format("{:.3g} welds a minute, bare in still air", *problem.circuit.weld_rate * 60)});
  for (const LoadedPiece& piece : f.pieces) {
    table.add_row({"Resistance of " + piece.name, in_words::resistance(piece.resistance),
                   "cold; takes " + in_words::energy(piece.load.pulse_energy) + " of each weld"});
    if (piece.load.pulse_rise)
      table.add_row({"Warms up in one pulse: " + piece.name,
                     in_words::temperature_rise(*piece.load.pulse_rise), "nothing lost meanwhile"});
    if (piece.load.steady_rise)
      table.add_row(
          {"Warms up at your rate of welds: " + piece.name,
           in_words::temperature_rise(*piece.load.steady_rise),
           fmt::format("{:.3g} W, taken as round and bare in still air", *piece.load.mean_power)});
  }
  add_joints(f.joints, table);
  return {"leads", "Leads, bars and joints", {table}};
}

Prose peak_remark(const circuit::TurnOff& off, const circuit::Switch& part) {
  if (off.clamp_fails)
    return Prose{{"the clamp does not protect", Tone::bad},
                 {": it must hold more than the source and less than the parts bear"}};
  if (off.breaks_down)
    return Prose{{"the parts break down", Tone::bad}, {" and take the energy themselves"}};
  if (!part.rated_voltage) return "no rated voltage given";
  return "within the rated " + in_words::voltage(*part.rated_voltage);
}

void add_turn_off(const circuit::Switch& part, const Result& run, const BenchFigures& f,
                  Table& table) {
  const circuit::TurnOff& off = *f.turn_off;
  table.add_row({"Opens at", in_words::current(*f.opening_current),
                 "at " + in_words::duration(f.opening_time)});
  table.add_row({"Energy held by the leads then", in_words::energy(off.held_energy), "L I²/2"});
  if (run.ledger.switch_off > off.held_energy * (1 + 1e-6))
    table.add_row(
        {"The same, all openings of this weld", in_words::energy(run.ledger.switch_off), ""});
  if (part.kind == circuit::SwitchKind::contactor) {
    table.add_row({"Where it goes", "arc", "between the opening contacts; wears them"});
    return;
  }
  if (part.parallel > 1)
    table.add_row({"The same for each transistor", in_words::energy(off.part_held_energy),
                   fmt::format("{} share it evenly", part.parallel)});
  table.add_row({"Highest voltage over the switch",
                 off.bounded ? in_words::voltage(off.peak_voltage) : std::string("not known"),
                 off.bounded ? peak_remark(off, part)
                             : Prose("nothing given limits it: state the rated voltage, the "
                                     "turn-off time or a clamp")});
  if (off.avalanche_energy > 0) {
    const auto use = [&](double share) {
      return part.avalanche_energy
                 ? rated(share * *part.avalanche_energy, part.avalanche_energy, in_words::energy)
                 : Prose("no rating given");
    };
    table.add_row({"Energy in breakdown, shared evenly",
                   in_words::energy(off.avalanche_energy / part.parallel),
                   use(off.part_avalanche_use.value_or(0))});
    table.add_row({"Energy in breakdown, one part takes all",
                   in_words::energy(off.avalanche_energy),
                   use(off.worst_avalanche_use.value_or(0))});
  }
  if (off.clamp_energy > 0)
    table.add_row(
        {"Energy in the clamp", in_words::energy(off.clamp_energy), "each time it opens"});
  if (off.freewheel)
    table.add_row({"Energy in the free-wheel diode", in_words::energy(off.freewheel->diode_energy),
                   "the current dies in " + in_words::duration(off.freewheel->time)});
}

Section switch_section(const Problem& problem, const Result& run, const BenchFigures& f) {
  Table table = figures_table();
  const circuit::Switch& part = problem.circuit.power_switch;
  if (f.switch_part_energy > 0)
    table.add_row({part.parallel > 1 ? "Heat in each transistor while it conducts"
                                     : "Heat in the switch while it conducts",
                   in_words::energy(f.switch_part_energy),
                   f.switch_part_power ? fmt::format("each weld; {:.3g} W at your rate of welds",
                                                     *f.switch_part_power)
                                       : std::string("each weld")});
  if (f.turn_off) add_turn_off(part, run, f, table);
  return {"switch", "Switch", {table}};
}

Section charging_section(const BenchFigures& f) {
  Table table = figures_table();
  const circuit::Charge& charge = *f.charge;
  table.add_row({"Full again after", in_words::duration(charge.time),
                 "99 % of the supply's voltage; at its current limit for " +
                     in_words::duration(charge.constant_current_time)});
  table.add_row({"Most power from the supply", fmt::format("{:.3g} W", charge.peak_supply_power),
                 "at its terminals"});
  table.add_row({"Heat in the resistor and the bank", in_words::energy(charge.lost),
                 fmt::format("each time; at most {:.3g} W, on average {:.3g} W while it charges",
                             charge.peak_power, charge.mean_power())});
  table.add_row(
      {"Share of the supply's energy that is stored", in_words::percent(charge.efficiency()), ""});
  if (f.welds_per_minute)
    table.add_row({"Welds a minute at most", fmt::format("{:.3g}", *f.welds_per_minute),
                   "charging and the time to move on"});
  return {"charging", "Charging", {table}};
}

Section sequence_section(const Problem& problem, const BenchFigures& f) {
  Table table = figures_table();
  const WeldSequence& sequence = problem.sequence;
  table.add_row({"Heat left by each weld", in_words::energy(f.weld_heat),
                 "all that has not left through the electrodes by the end of the run"});
  table.add_row({"Cell end before the last weld",
                 in_words::temperature_rise(*f.rise_before_last) + " warmer",
                 fmt::format("{} welds, {} apart; mean over the end", sequence.welds,
                             in_words::duration(sequence.pause))});
  if (f.allowed_rise)
    table.add_row({"Room left below the first limit", in_words::temperature_rise(*f.allowed_rise),
                   *f.allowed_rise <= 0 ? Prose{{"one weld alone exceeds it", Tone::bad}}
                   : *f.rise_before_last > *f.allowed_rise
                       ? Prose{{"too little", Tone::bad}, {" for this pace"}}
                       : Prose("enough for this pace")});
  if (f.allowed_rise && *f.allowed_rise > 0)
    table.add_row(
        {"Shortest safe pause",
         f.shortest_pause ? in_words::duration(*f.shortest_pause) : std::string("none"),
         f.shortest_pause ? "between two welds" : "that many welds warm the whole cell too far"});
  return {"sequence",
          "Several welds on this end",
          {table, Prose("The winding is taken as a rod that loses nothing, the gap before it is "
                        "left out; beside the last spot it is warmer than the mean.")}};
}

}  // namespace

std::vector<Section> bench_sections(const Problem& problem, const Result& run) {
  std::vector<Section> sections;
  if (run.history.empty()) return sections;
  const BenchFigures f = bench_figures(problem, run);
  if (f.lead_pulse_rise || !f.pieces.empty() || !f.joints.empty())
    sections.push_back(leads_section(problem, f));
  if (f.turn_off || f.switch_part_energy > 0) sections.push_back(switch_section(problem, run, f));
  if (f.charge) sections.push_back(charging_section(f));
  if (f.rise_before_last) sections.push_back(sequence_section(problem, f));
  return sections;
}

}  // namespace tabmelt::report
