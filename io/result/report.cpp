#include "io/result/report.h"

#include <fmt/format.h>

#include <cmath>
#include <variant>

#include "io/result/cell_side.h"
#include "io/result/electrical_figures.h"
#include "io/result/ledger_lines.h"
#include "io/result/markdown_table.h"
#include "io/result/people_units.h"
#include "io/result/report_limits.h"
#include "io/result/utc_date.h"

namespace tabmelt {
namespace {

using Columns = std::vector<MarkdownTable::Column>;

std::string place(double r, double z) {
  return fmt::format("r {}, z {}", millimetre_text(r), millimetre_text(z));
}

std::string at(const std::string& value, double time) {
  return fmt::format("{} at {}", value, duration_text(time));
}

std::string part_of(double depth, double thickness) {
  return thickness > 0 ? percent_text(depth / thickness) : "n/a";
}

std::string heading(const Case& asked, const Result& run, const Verdict& verdict) {
  std::string text =
      fmt::format("# {}\n\n**{}**\n\n", table_cell(asked.title), table_cell(verdict.sentence));
  text += fmt::format("Outcome: {}{}.", words(verdict.leading), verdict.good ? ", good" : "");
  if (verdict.cell_judged) {
    text += verdict.cell_safe ? " Cell side: within its limits."
                              : " Cell side: **a limit is exceeded**.";
  }
  text += "\n";
  if (run.ending != Ending::finished) {
    const double reached = run.history.empty() ? 0 : run.history.back().time;
    text += fmt::format(
        "\n**This run did not finish.** It {} at {}: {}. Everything below covers the time up to "
        "then only.\n",
        run.ending == Ending::failed ? "failed" : "was stopped", duration_text(reached),
        run.ending_reason.empty() ? "no reason given" : table_cell(run.ending_reason));
  }
  return text;
}

std::string margins(const Verdict& verdict) {
  MarkdownTable table(Columns{{"Finding"},
                              {"Happened"},
                              {"Decided by"},
                              {"Value", Align::right},
                              {"Limit", Align::right},
                              {"Margin", Align::right},
                              {"When", Align::right},
                              {"Where"},
                              {"Basis of the limit"},
                              {"Advice"}});
  for (const Finding& finding : verdict.findings) {
    table.add_row({words(finding.outcome), finding.holds ? "**yes**" : "no", finding.quantity,
                   people_text(finding.value, finding.unit),
                   people_text(finding.limit, finding.unit), percent_text(finding.margin),
                   duration_text(finding.time), place(finding.r, finding.z), finding.basis,
                   finding.advice});
  }
  std::string text = "\n## Margins\n\n";
  if (table.empty()) return text + "Nothing was judged.\n";
  return text + table.text() +
         "\nMargin: distance from the limit relative to it, on the good side; negative is on the "
         "bad side.\n";
}

std::string weld_numbers(const Problem& problem, const Result& run, const Verdict& verdict,
                         const ElectricalFigures& figures) {
  MarkdownTable table(Columns{{"Quantity"}, {"Value", Align::right}, {"Remark"}});
  const auto optional_resistance = [](const std::optional<double>& value) {
    return value ? milliohm_text(*value) : std::string("no current");
  };
  const std::string spots = problem.arrangement.spots == 1
                                ? "one spot"
                                : fmt::format("{} spots in series", problem.arrangement.spots);
  table.add_row({"Peak current", current_text(run.peak_current.value),
                 "at " + duration_text(run.peak_current.time)});
  table.add_row(
      {"Load resistance at the start", optional_resistance(figures.load_resistance_start), spots});
  table.add_row(
      {"Load resistance, least", optional_resistance(figures.load_resistance_least), spots});
  table.add_row({"Contact electrode - strip at the start",
                 optional_resistance(figures.tip_resistance_start), "one spot"});
  table.add_row({"Contact strip - can at the start",
                 optional_resistance(figures.faying_resistance_start), "one spot"});
  table.add_row({"Contact voltage electrode - strip, largest",
                 voltage_text(run.peak_tip_voltage.value),
                 "at " + duration_text(run.peak_tip_voltage.time)});
  table.add_row({"Contact voltage strip - can, largest",
                 voltage_text(run.peak_faying_voltage.value),
                 "at " + duration_text(run.peak_faying_voltage.time)});
  table.add_row({"Current through the can", percent_text(run.can_share_mean),
                 fmt::format("energy-weighted mean; {} at the start; the rest returns through the "
                             "strip",
                             percent_text(run.can_share_start))});
  table.add_row(
      {"Nugget diameter", millimetre_text(run.nugget.value),
       fmt::format("smallest good one {}; largest at {}",
                   millimetre_text(verdict.smallest_good_nugget), duration_text(run.nugget.time))});
  if (run.nugget_hole_diameter > 0) {
    table.add_row({"Unmelted middle of the nugget", millimetre_text(run.nugget_hole_diameter),
                   "a ring has fused, not a disc"});
  }
  table.add_row({"Faying area ever fused, diameter", millimetre_text(run.fused_diameter), ""});
  table.add_row({"Faying area ever above softening, diameter", millimetre_text(run.soft_diameter),
                 "soft for up to " + duration_text(run.time_faying_soft)});
  table.add_row({"Penetration into the strip",
                 part_of(run.strip_penetration.value, problem.strip.thickness),
                 fmt::format("{} of {}", millimetre_text(run.strip_penetration.value),
                             millimetre_text(problem.strip.thickness))});
  table.add_row({"Penetration into the can",
                 part_of(run.can_penetration.value, problem.can.thickness),
                 fmt::format("{} of {}", millimetre_text(run.can_penetration.value),
                             millimetre_text(problem.can.thickness))});
  if (run.strip_molten_through) {
    table.add_row(
        {"Strip molten through", "yes", "out to r " + millimetre_text(run.strip_through_radius)});
  }
  table.add_row({"Estimated shear strength", force_text(verdict.shear_strength), "one spot"});
  table.add_row({"Estimated peel strength", force_text(verdict.peel_strength), "one spot"});
  table.add_row(
      {"Hottest faying point", celsius_text(run.peak_faying.value),
       at("cooler side, " + place(run.peak_faying.r, run.peak_faying.z), run.peak_faying.time)});
  table.add_row({"Hottest of the electrode face", celsius_text(run.peak_tip.value),
                 "at " + duration_text(run.peak_tip.time)});
  table.add_row({"Hottest of the strip's upper surface", celsius_text(run.peak_strip_top.value),
                 "at " + duration_text(run.peak_strip_top.time)});
  table.add_row({"Hottest of the can", celsius_text(run.peak_can.value),
                 "at " + duration_text(run.peak_can.time)});
  if (run.vaporised_mass > 0) {
    table.add_row({"Boiled metal, at the worst moment",
                   fmt::format("{:.3g} µg", run.vaporised_mass * 1e9), "one spot"});
  }
  return "\n## The weld\n\n" + table.text();
}

std::string cell_side_section(const Result& run, const Verdict& verdict) {
  MarkdownTable table(Columns{{"Layer"},
                              {"Peak", Align::right},
                              {"When", Align::right},
                              {"Limit", Align::right},
                              {"Above limit for", Align::right},
                              {"Damage", Align::right},
                              {"Result"},
                              {"Reason of the limit"}});
  for (const LayerRecord& layer : cell_side(run, verdict)) {
    const bool limited = has_limit(layer);
    const std::string melted =
        layer.melting_temperature > 0 && layer.peak.value >= layer.melting_temperature
            ? ", reaches its melting point of " + celsius_text(layer.melting_temperature)
            : "";
    table.add_row({layer.name, celsius_text(layer.peak.value), duration_text(layer.peak.time),
                   limited ? celsius_text(layer.limit) : "none",
                   limited ? duration_text(layer.time_above_limit) : "-", damage_text(layer.damage),
                   (!limited              ? "not judged"
                    : within_limit(layer) ? "pass"
                                          : "**FAIL**") +
                       melted,
                   layer.limit_reason});
  }
  std::string text = "\n## Cell side\n\n";
  if (table.empty()) return text + "This case has no cell to protect.\n";
  return text + table.text() +
         "\nDamage: part of the protective layer on the negative electrode (SEI) that would have "
         "decomposed, had it lain at the hottest place of this layer.\n";
}

std::string energy_section(const Problem& problem, const Result& run) {
  const double given = run.ledger.from_source;
  const auto share = [&](double energy) {
    return given > 0 ? percent_text(energy / given) : "n/a";
  };
  MarkdownTable table(Columns{{"Where"}, {"Energy", Align::right}, {"Share", Align::right}});
  for (const LedgerLine& line : ledger_sinks(run.ledger)) {
    table.add_row({line.words, energy_text(line.energy), share(line.energy)});
  }
  table.add_row(
      {"Missing from the books", energy_text(run.ledger.residual), share(run.ledger.residual)});
  table.add_row({"**Given up by the source**", energy_text(given), share(given)});
  std::string text = "\n## Where the energy went\n\n" + table.text();
  text +=
      fmt::format("\nWhole loop, {}.", problem.arrangement.spots == 1
                                           ? std::string("one spot")
                                           : fmt::format("{} spots", problem.arrangement.spots));
  if (!run.history.empty()) {
    const StepRecord& end = run.history.back();
    text += fmt::format(
        " Of the {} delivered to one spot, {} left through the ends of the model and {} was still "
        "in the parts at {}.",
        energy_text(end.energy_in), energy_text(end.energy_out), energy_text(end.energy_stored),
        duration_text(end.time));
  }
  text += fmt::format(" Worst error of the books at any step: {:.1e} of the energy delivered.\n",
                      run.worst_energy_residual);
  return text;
}

std::string source_section(const Problem& problem, const Result& run,
                           const ElectricalFigures& figures) {
  MarkdownTable table(Columns{{"Quantity"}, {"Value", Align::right}, {"Remark"}});
  const circuit::Source& source = problem.circuit.source;
  if (const auto* bank = std::get_if<circuit::CapacitorBank>(&source)) {
    table.add_row({"Capacitor bank", fmt::format("{:.4g} mF", bank->capacitance() * 1e3),
                   fmt::format("{} in series, {} in parallel, charged to {}", bank->series,
                               bank->parallel, voltage_text(bank->charge_voltage))});
    table.add_row({"Stored", energy_text(run.ledger.stored_before), ""});
  } else if (const auto* battery = std::get_if<circuit::Battery>(&source)) {
    table.add_row({"Battery", voltage_text(battery->open_circuit_voltage),
                   "internal resistance " + milliohm_text(battery->internal_resistance)});
  } else {
    table.add_row(
        {"Prescribed current", current_text(run.peak_current.value), "the source is not modelled"});
  }
  table.add_row({"Peak current", current_text(run.peak_current.value),
                 "at " + duration_text(run.peak_current.time)});
  const auto rating = [](bool exceeded, const std::optional<double>& rated, const auto& text_of) {
    if (!rated) return std::string("no rating given");
    return (exceeded ? "**exceeds** the rated " : "within the rated ") + text_of(*rated);
  };
  if (figures.current_per_capacitor) {
    table.add_row({"Peak current per capacitor", current_text(*figures.current_per_capacitor),
                   rating(figures.current_rating_exceeded, figures.rated_current, current_text)});
    table.add_row({"Voltage per capacitor", voltage_text(*figures.voltage_per_capacitor),
                   rating(figures.voltage_rating_exceeded, figures.rated_voltage, voltage_text)});
    table.add_row({"Deepest reverse voltage", voltage_text(run.most_reverse_voltage),
                   run.most_reverse_voltage > 0
                       ? "the loop rings; electrolytic capacitors do not bear reverse voltage"
                       : "the bank is never driven negative"});
  } else if (std::holds_alternative<circuit::Battery>(source)) {
    table.add_row({"Battery current", current_text(std::abs(run.peak_current.value)),
                   rating(figures.current_rating_exceeded, figures.rated_current, current_text)});
  }
  table.add_row({"Dumped in the switch when it opened", energy_text(run.ledger.switch_off),
                 "the switch or a diode across it must take this"});
  if (figures.current_per_capacitor) {
    table.add_row({"Left in the bank", energy_text(run.ledger.left_in_source), ""});
  }
  return "\n## Source\n\n" + table.text();
}

std::string assumptions(const Case& asked, const Result& run) {
  std::string text = "\n## Defaults used\n\n";
  MarkdownTable table(Columns{{"Key"}, {"Value"}, {"Why"}});
  for (const DefaultUsed& used : asked.defaults) table.add_row({used.key, used.value, used.reason});
  text += table.empty() ? std::string("None: the case gives every value.\n") : table.text();
  text += "\n## Notes of this run\n\n";
  if (run.notes.empty()) return text + "No property was used outside its range.\n";
  for (const std::string& note : run.notes) text += "- " + table_cell(note) + "\n";
  return text;
}

// Safe to paste into a shell: quoted unless plain.
std::string shell_word(const std::string& word) {
  const bool plain = !word.empty() && word.find_first_not_of(
                                          "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                                          "0123456789_-./+,:@%") == std::string::npos;
  if (plain) return word;
  std::string quoted = "'";
  for (const char c : word) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return quoted + "'";
}

std::string repetition(const Case& asked, const Result& run, const std::string& folder) {
  return fmt::format(
      "\n## How to repeat this run\n\n```\ntabmelt run {} -o {}\n```\n\n"
      "The field file carries the case as read and with every default filled in "
      "(`/texts/case`, `/texts/full_case`). tabmelt {}, {}; {} cells, {} steps ({} repeated), "
      "{:.2f} s of processor time.\n",
      shell_word(asked.file.string()), shell_word(folder), TABMELT_VERSION, utc_date(),
      run.grid.cells(), run.history.size(), run.rejected_steps, run.cpu_seconds);
}

}  // namespace

std::string report_text(const Case& asked, const Result& run, const Verdict& verdict,
                        const std::string& folder) {
  const Problem& problem = asked.problem;
  const ElectricalFigures figures = electrical_figures(problem, run);
  return heading(asked, run, verdict) + margins(verdict) +
         weld_numbers(problem, run, verdict, figures) + cell_side_section(run, verdict) +
         energy_section(problem, run) + source_section(problem, run, figures) +
         assumptions(asked, run) + limits_of_the_model(problem) + cautions() +
         repetition(asked, run, folder);
}

}  // namespace tabmelt
