#include "io/report/source_section.h"

#include <fmt/format.h>

#include <cmath>
#include <variant>

#include "io/report/bench_warnings.h"
#include "io/report/figures_table.h"
#include "solver/words/in_words.h"

namespace tabmelt::report {
namespace {

std::string capacitance_text(double farad) {
  return farad >= 10 ? fmt::format("{:.4g} F", farad) : fmt::format("{:.4g} mF", farad * 1e3);
}

class Rows {
 public:
  Rows(const Result& run, const BenchFigures& figures, Table& table)
      : run_(run), f_(figures), table_(table) {}

  void operator()(const circuit::CapacitorBank& bank) {
    const circuit::SourceReport& s = f_.source;
    table_.add_row({bank.supercapacitor ? "Supercapacitors" : "Capacitor bank",
                    capacitance_text(bank.capacitance()),
                    fmt::format("{} in series, {} in parallel, charged to {}, {} inside",
                                bank.series, bank.parallel, in_words::voltage(bank.charge_voltage),
                                in_words::resistance(bank.resistance()))});
    table_.add_row({"Stored", in_words::energy(run_.ledger.stored_before),
                    fmt::format("{} to {} at the edges of the tolerance of {}",
                                in_words::energy(s.least_energy), in_words::energy(s.most_energy),
                                in_words::percent(bank.tolerance))});
    add_peak();
    table_.add_row({"Peak current per capacitor", in_words::current(s.peak_part_current),
                    rated(s.peak_part_current, bank.rated_current, in_words::current)});
    if (bank.parallel > 1)
      table_.add_row({"Peak current of the string that carries most",
                      in_words::current(s.worst_part_current),
                      rated(s.worst_part_current, bank.rated_current, in_words::current)});
    table_.add_row({"Voltage per capacitor", in_words::voltage(s.part_voltage),
                    rated(s.part_voltage, bank.rated_voltage, in_words::voltage)});
    if (bank.series > 1)
      table_.add_row({"Highest voltage of one part", in_words::voltage(s.worst_part_voltage),
                      rated(s.worst_part_voltage, bank.rated_voltage, in_words::voltage)});
    table_.add_row({"Deepest reverse voltage of one part",
                    in_words::voltage(s.reverse_part_voltage),
                    s.reverse_voltage > harmless_reverse_voltage
                        ? Prose{{"not allowed", Tone::bad}, {" for parts with a plus and a minus"}}
                        : Prose("the bank is never driven negative")});
    table_.add_row({"Voltage lost in this weld", in_words::percent(s.droop), "of the charge"});
    if (f_.part_load) add_warming(bank);
    table_.add_row({"Left in the bank", in_words::energy(run_.ledger.left_in_source), ""});
  }

  void operator()(const circuit::Battery& battery) {
    table_.add_row({"Battery", in_words::voltage(battery.open_circuit_voltage),
                    "internal resistance " + in_words::resistance(battery.internal_resistance)});
    add_peak();
    table_.add_row({"Battery current", in_words::current(f_.source.peak_part_current),
                    rated(f_.source.peak_part_current, battery.rated_current, in_words::current)});
    table_.add_row({"Largest drop inside the battery", in_words::percent(f_.source.droop),
                    "of its open-circuit voltage"});
    if (!battery.cut_off_current) return;
    const bool reached = f_.source.peak_current >= *battery.cut_off_current;
    table_.add_row(
        {"Cut-off of its protection", in_words::current(*battery.cut_off_current),
         reached ? Prose{{"reached", Tone::bad},
                         {"; opens if it lasts " + in_words::duration(battery.cut_off_delay)}}
                 : Prose("not reached")});
  }

  void operator()(const circuit::BenchSupply& supply) {
    table_.add_row({"Bench supply", in_words::voltage(supply.voltage),
                    "limited to " + in_words::current(supply.current_limit)});
    add_peak();
    const bool limited = f_.source.peak_current >= supply.current_limit * (1 - 1e-9);
    table_.add_row({"Current limit", in_words::current(supply.current_limit),
                    limited ? "reached: the supply then holds the current"
                            : "not reached: the supply holds its voltage"});
    table_.add_row({"Largest drop at its terminals", in_words::percent(f_.source.droop),
                    "of the set voltage"});
    if (!(supply.output_capacitance > 0)) return;
    table_.add_row({"Held by its output capacitor", in_words::energy(f_.source.stored_energy),
                    capacitance_text(supply.output_capacitance) + " at the set voltage"});
    table_.add_row({"First surge above the limit", in_words::current(f_.source.surge),
                    "from the output capacitor, before the limit holds"});
  }

  void operator()(const circuit::ExponentialCurrent&) { add_prescribed(); }
  void operator()(const circuit::TableCurrent&) { add_prescribed(); }

 private:
  void add_peak() {
    table_.add_row({"Peak current", in_words::current(run_.peak_current.value),
                    "at " + in_words::duration(run_.peak_current.time)});
  }

  void add_prescribed() {
    table_.add_row({"Prescribed current", in_words::current(run_.peak_current.value),
                    "the source is not modelled"});
    add_peak();
  }

  void add_warming(const circuit::CapacitorBank& bank) {
    const circuit::PartLoad& load = *f_.part_load;
    table_.add_row({"Ripple current of one part at your rate of welds",
                    fmt::format("{:.3g} A", load.ripple_current),
                    rated(load.ripple_current, bank.rated_ripple, in_words::current)});
    table_.add_row({"Heat in one part at that rate", fmt::format("{:.3g} W", load.power),
                    bank.thermal_resistance ? "warms it by " + in_words::temperature_rise(load.rise)
                                            : std::string("its thermal resistance is not given")});
  }

  const Result& run_;
  const BenchFigures& f_;
  Table& table_;
};

}  // namespace

Section source_section(const Problem& problem, const Result& run, const BenchFigures& figures) {
  Table table = figures_table();
  Rows rows(run, figures, table);
  std::visit(rows, problem.circuit.source);
  return {"source", "Source", {table}};
}

}  // namespace tabmelt::report
