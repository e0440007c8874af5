#include "io/report/bench_warnings.h"

#include <fmt/format.h>

#include <cmath>

#include "solver/circuit/loop.h"
#include "solver/words/in_words.h"

namespace tabmelt::report {
namespace {

using Warnings = std::vector<std::string>;

// Usual insulation, PVC: 70 degC in steady use, 160 degC in a short circuit (IEC 60364-4-43
// table 43A and 5-52 table 52.1, from memory).
constexpr double steady_limit = 343.15, pulse_limit = 433.15;  // [K]

void about_voltage(const circuit::CapacitorBank& bank, const circuit::SourceReport& s,
                   Warnings& list) {
  if (!bank.rated_voltage) return;
  const std::string rated = in_words::voltage(*bank.rated_voltage);
  if (s.voltage_exceeded)
    list.push_back(
        fmt::format("Each {} is charged to {}, rated {}: over its voltage it may burst. Lower "
                    "source.charge_voltage or put more parts in series.",
                    bank.supercapacitor ? "supercapacitor" : "capacitor",
                    in_words::voltage(s.part_voltage), rated));
  else if (s.worst_voltage_exceeded)
    list.push_back(fmt::format(
        "{}, one part of a string sees up to {}, rated {}.",
        bank.balancing ? "As unevenly as the balancing allows (source.balancing)"
                       : "With the spread of the capacitance (source.tolerance) and no balancing",
        in_words::voltage(s.worst_part_voltage), rated));
}

void about_bank(const Problem& problem, const circuit::CapacitorBank& bank, const BenchFigures& f,
                Warnings& list) {
  const circuit::SourceReport& s = f.source;
  about_voltage(bank, s, list);
  if (s.reverse_voltage > harmless_reverse_voltage)
    list.push_back(fmt::format(
        "The loop is under-damped: the current swings back and charges one part to {} the wrong "
        "way round. Parts with a plus and a minus (electrolytic, double layer) do not bear that: "
        "shorten the leads, add resistance, or put a diode across the bank.",
        in_words::voltage(s.reverse_part_voltage)));
  if (s.current_exceeded)
    list.push_back(fmt::format("The peak current of one part is {}, rated {}.",
                               in_words::current(s.peak_part_current),
                               in_words::current(*bank.rated_current)));
  else if (s.worst_current_exceeded)
    list.push_back(fmt::format(
        "With the spread of the series resistance (source.esr_spread) one part carries up to {}, "
        "rated {}.",
        in_words::current(s.worst_part_current), in_words::current(*bank.rated_current)));
  if (f.part_load && bank.rated_ripple && f.part_load->ripple_current > *bank.rated_ripple)
    list.push_back(
        fmt::format("At your rate of welds one part carries {:.3g} A r.m.s., rated "
                    "{:.3g} A: it overheats.",
                    f.part_load->ripple_current, *bank.rated_ripple));
  const auto& charger = problem.circuit.charger;
  if (charger && bank.rated_voltage && !s.voltage_exceeded &&
      charger->set_voltage > bank.rated_voltage.value() * bank.series)
    list.push_back(fmt::format(
        "The charger is set to {}, more than {} in series bear; only switching it off in time "
        "protects them.",
        in_words::voltage(charger->set_voltage),
        bank.series == 1 ? "one part" : fmt::format("{} parts", bank.series)));
}

void about_battery(const Problem& problem, const circuit::Battery& battery, const BenchFigures& f,
                   Warnings& list) {
  if (f.source.current_exceeded)
    list.push_back(fmt::format("The battery gives {}, rated {}.",
                               in_words::current(f.source.peak_part_current),
                               in_words::current(*battery.rated_current)));
  if (battery.cut_off_current) return;
  const double bound = circuit::Loop(problem.circuit).peak_current_bound();
  list.push_back(fmt::format(
      "Nothing but the switch ends the current of this battery: if it fails closed, {} flow until "
      "something melts. Put a fuse or a protection (source.cut_off_current) in the loop.",
      std::isfinite(bound) ? "up to " + in_words::current(bound) : "any number of amperes"));
}

void about_switch(const circuit::Switch& part, const BenchFigures& f, Warnings& list) {
  if (!f.turn_off || part.kind != circuit::SwitchKind::transistors) return;
  const circuit::TurnOff& off = *f.turn_off;
  if (off.clamp_fails)
    list.emplace_back(
        "The clamp does not protect the switch: its voltage must lie above the source's and below "
        "what the parts bear.");
  if (off.worst_avalanche_use && *off.worst_avalanche_use > 1)
    list.push_back(fmt::format(
        "Opening drives the transistors into breakdown with {}; the one that breaks down first may "
        "take all of it and bears {}. Add a clamp or a free-wheel diode.",
        in_words::energy(off.avalanche_energy), in_words::energy(*part.avalanche_energy)));
}

void about_leads(const Problem& problem, const BenchFigures& f, Warnings& list) {
  const double ambient = problem.boundary.ambient;
  const auto check = [&](const std::string& what, const std::optional<double>& pulse,
                         const std::optional<double>& steady) {
    if (pulse && ambient + *pulse > pulse_limit)
      list.push_back(fmt::format("{} reach {} in one pulse; usual insulation bears {}.", what,
                                 in_words::temperature(ambient + *pulse),
                                 in_words::temperature(pulse_limit)));
    else if (steady && ambient + *steady > steady_limit)
      list.push_back(fmt::format("{} reach {} at your rate of welds; usual insulation bears {}.",
                                 what, in_words::temperature(ambient + *steady),
                                 in_words::temperature(steady_limit)));
  };
  check("The leads", f.lead_pulse_rise, f.lead_steady_rise);
  for (const LoadedPiece& piece : f.pieces)
    check("Conductors \"" + piece.name + "\"", piece.load.pulse_rise, piece.load.steady_rise);
}

}  // namespace

std::vector<std::string> bench_warnings(const Problem& problem, const BenchFigures& f) {
  Warnings list;
  if (const auto* bank = std::get_if<circuit::CapacitorBank>(&problem.circuit.source))
    about_bank(problem, *bank, f, list);
  if (const auto* battery = std::get_if<circuit::Battery>(&problem.circuit.source))
    about_battery(problem, *battery, f, list);
  about_switch(problem.circuit.power_switch, f, list);
  about_leads(problem, f, list);
  return list;
}

}  // namespace tabmelt::report
