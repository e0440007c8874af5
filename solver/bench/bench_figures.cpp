#include "solver/bench/bench_figures.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/circuit/conductors.h"
#include "solver/circuit/lead_heating.h"
#include "solver/circuit/loop.h"
#include "solver/problem/weld_sequence.h"

namespace tabmelt {
namespace {

double square_current_time(const Problem& problem, const Result& run) {
  const circuit::LoopElements loop = circuit::elements(problem.circuit);
  if (loop.lead_resistance > 0) return run.ledger.leads / loop.lead_resistance;
  if (loop.joint_resistance > 0) return run.ledger.joints / loop.joint_resistance;
  double sum = 0, before = 0;
  for (const StepRecord& step : run.history) {
    const double now = step.current;
    sum += step.step * (before * before + before * now + now * now) / 3;
    before = now;
  }
  return sum;
}

void lead_figures(const Problem& problem, BenchFigures& out) {
  const circuit::Leads& leads = problem.circuit.leads;
  if (!(leads.cross_section > 0) || !(leads.length > 0)) return;
  out.lead_pulse_rise = circuit::pulse_temperature_rise(
      leads.material, leads.cross_section, out.square_current_time, problem.boundary.ambient);
  if (!problem.circuit.weld_rate) return;
  const double per_metre = leads.resistance
                               ? *leads.resistance / (2 * leads.length)
                               : circuit::lead_resistance_per_metre(
                                     leads.material, leads.cross_section,
                                     leads.flexible ? circuit::ConductorClass::flexible
                                                    : circuit::ConductorClass::solid_or_stranded);
  out.lead_steady_rise = circuit::steady_temperature_rise(
      per_metre, leads.cross_section, out.square_current_time, *problem.circuit.weld_rate);
}

void conductor_figures(const circuit::Circuit& circuit, BenchFigures& out) {
  for (const circuit::Piece& piece : circuit.pieces)
    out.pieces.push_back({piece.name, piece.resistance(),
                          circuit::piece_load(piece, out.square_current_time, circuit.weld_rate)});
  for (const circuit::Joint& joint : circuit.joints) {
    LoadedJoint loaded{
        joint.name, joint.resistance, joint.resistance * out.square_current_time, {}};
    if (circuit.weld_rate) loaded.mean_power = loaded.pulse_energy * *circuit.weld_rate;
    out.joints.push_back(std::move(loaded));
  }
}

// The history ends each step exactly at an opening.
void switch_figures(const Problem& problem, const Result& run, BenchFigures& out) {
  out.switch_part_energy = run.ledger.power_switch / problem.circuit.power_switch.parallel;
  if (problem.circuit.weld_rate)
    out.switch_part_power = out.switch_part_energy * *problem.circuit.weld_rate;
  const circuit::Loop loop(problem.circuit);
  if (loop.current_is_prescribed()) return;
  double voltage = 0;
  for (const double event : loop.event_times()) {
    if (!(event > 0) || loop.conducts_at(event)) continue;
    for (const StepRecord& step : run.history) {
      if (std::abs(step.time - event) > 1e-6 * event) continue;
      const double current = std::abs(step.current);
      if (out.opening_current && current <= *out.opening_current) continue;
      out.opening_current = current;
      out.opening_time = event;
      voltage = step.source_voltage;
    }
  }
  if (out.opening_current && *out.opening_current > 0)
    out.turn_off =
        circuit::turn_off(problem.circuit.power_switch, loop.elements().inductance,
                          *out.opening_current, voltage, loop.elements().total_resistance());
}

void charging_figures(const Problem& problem, const Result& run, BenchFigures& out) {
  const auto* bank = std::get_if<circuit::CapacitorBank>(&problem.circuit.source);
  if (!bank || run.history.empty()) return;
  double squares = out.square_current_time;
  if (problem.circuit.charger) {
    circuit::Charger charger = *problem.circuit.charger;
    charger.series_resistance += bank->resistance();
    const double start = run.history.back().source_voltage;
    out.charge = circuit::full_charge(charger, bank->capacitance(), start);
    squares += out.charge->square_current_time;
    const double round = out.charge->time + problem.circuit.handling_time;
    if (round > 0) out.welds_per_minute = 60 / round;
  }
  if (problem.circuit.weld_rate)
    out.part_load = circuit::part_load(*bank, squares, *problem.circuit.weld_rate);
}

void sequence_figures(const Problem& problem, const Result& run, BenchFigures& out) {
  const WeldSequence& sequence = problem.sequence;
  if (sequence.welds < 2 || !(sequence.cell_radius > 0) || problem.inner.empty() ||
      run.history.empty())
    return;
  const Material& winding = *problem.inner.back().material;
  const double T = problem.boundary.ambient;
  const WindingRod rod{sequence.cell_radius, sequence.cell_length, winding.conductivity_z(T),
                       winding.density * winding.specific_heat.at(T)};
  out.weld_heat = problem.arrangement.spots * std::max(0.0, run.history.back().energy_stored);
  out.rise_before_last = rise_before_last(rod, out.weld_heat, sequence.welds, sequence.pause);
  double allowed = std::numeric_limits<double>::infinity();
  for (const LayerRecord& layer : run.inner_wall_and_layers)
    if (layer.limit > 0) allowed = std::min(allowed, layer.limit - layer.peak.value);
  if (!std::isfinite(allowed)) return;
  out.allowed_rise = allowed;
  if (!(allowed > 0)) return;
  out.shortest_pause = shortest_pause(rod, out.weld_heat, sequence.welds, allowed);
  // The next spot is taken to lie as far away as the two electrodes, or half a radius.
  const double distance =
      problem.arrangement.spacing > 0 ? problem.arrangement.spacing : 0.5 * sequence.cell_radius;
  const Material& wall = *problem.base().material;
  const double diffusivity = wall.conductivity_r(T) / (wall.density * wall.specific_heat.at(T));
  if (out.shortest_pause)
    out.shortest_pause = std::max(*out.shortest_pause, spreading_time(distance, diffusivity));
}

}  // namespace

BenchFigures bench_figures(const Problem& problem, const Result& run) {
  BenchFigures out;
  out.square_current_time = square_current_time(problem, run);
  // Before the first step the source stands as it began.
  double lowest = circuit::Loop(problem.circuit).initial_state().source_voltage;
  const double last = run.history.empty() ? lowest : run.history.back().source_voltage;
  for (const StepRecord& step : run.history) lowest = std::min(lowest, step.source_voltage);
  // Within a step it may have been deeper.
  if (run.most_reverse_voltage > 0) lowest = std::min(lowest, -run.most_reverse_voltage);
  out.source =
      circuit::source_report(problem.circuit, {std::abs(run.peak_current.value), lowest, last});
  lead_figures(problem, out);
  conductor_figures(problem.circuit, out);
  switch_figures(problem, run, out);
  charging_figures(problem, run, out);
  sequence_figures(problem, run, out);
  return out;
}

}  // namespace tabmelt
