#include "io/report/report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <variant>

#include "io/report/bench_sections.h"
#include "io/report/bench_warnings.h"
#include "io/report/cell_side.h"
#include "io/report/grid_section.h"
#include "io/report/landing_words.h"
#include "io/report/markdown.h"
#include "io/report/report_limits.h"
#include "io/report/source_section.h"
#include "solver/catalogue/catalogue.h"
#include "solver/material/sei_damage.h"
#include "solver/words/glossary.h"
#include "solver/words/in_words.h"

namespace tabmelt::report {
namespace {

using Columns = std::vector<Column>;

Phrase cell_side_in_short(const Verdict& verdict) {
  if (verdict.cell_safe) return {"within its limits", Tone::good};
  const bool exceeded = std::any_of(
      verdict.cell_side.begin(), verdict.cell_side.end(),
      [](const LayerRecord& layer) { return is_judged(layer) && !within_limits(layer); });
  if (!exceeded && !verdict.cell_settled)
    return {"not proven safe, the run ended before its peak", Tone::bad};
  return {"a limit is exceeded", Tone::bad};
}

std::vector<Prose> first_notes(const Case& asked, const Result& run, const Verdict& verdict) {
  const Problem& problem = asked.problem;
  Prose outcome(
      fmt::format("Outcome: {}{}.", words(verdict.leading), verdict.good ? ", good" : ""));
  if (verdict.cell_judged) {
    outcome += {" Cell side: "};
    outcome += cell_side_in_short(verdict);
    outcome += {hot_without_limit(verdict) + "."};
  }
  std::vector<Prose> notes{outcome};
  if (run.ending != Ending::finished) {
    const double reached = run.history.empty() ? 0 : run.history.back().time;
    notes.push_back(Prose{
        {"This run did not finish.", Tone::bad},
        {fmt::format(
            " It {} at {}: {}. Everything below covers the time up to then only.",
            run.ending == Ending::failed ? "failed" : "was stopped", in_words::duration(reached),
            run.ending_reason.empty() ? std::string("no reason given") : run.ending_reason)}});
  }
  for (const std::string& warning : bench_warnings(problem, bench_figures(problem, run)))
    notes.push_back(Prose{{"Warning:", Tone::bad}, {" " + warning}});
  for (const std::string& notice : asked.notices)
    notes.push_back(Prose{{"Note:", Tone::strong}, {" " + notice}});
  return notes;
}

Section margins(const Verdict& verdict) {
  Table table(Columns{{"Finding"},
                      {"Happened"},
                      {"Decided by"},
                      {"Value", Align::right},
                      {"Limit", Align::right},
                      {"Margin", Align::right},
                      {"When", Align::right, Weight::detail},
                      {"Where", Align::left, Weight::detail},
                      {"Basis of the limit", Align::left, Weight::detail},
                      {"Advice"}});
  for (const Finding& finding : verdict.findings) {
    const bool wanted = finding.outcome == Outcome::fused;
    table.add_row({words(finding.outcome),
                   finding.holds ? Prose{{"yes", wanted ? Tone::strong : Tone::bad}} : Prose("no"),
                   finding.quantity, in_words::quantity(finding.value, finding.unit),
                   in_words::quantity(finding.limit, finding.unit),
                   in_words::percent(finding.margin), in_words::duration(finding.time),
                   in_words::place(finding.r, finding.z), finding.basis, finding.advice});
  }
  Section section{"margins", "Margins", {}};
  if (table.empty()) {
    section.blocks = {Prose("Nothing was judged.")};
  } else {
    section.blocks = {table, Prose(if_limits_were_lower(verdict)),
                      Prose("† not checked against the publication.")};
  }
  return section;
}

std::string remark(const Quantity& one) {
  if (!one.at) return "";
  const std::string when = "at " + in_words::duration(one.at->time);
  return one.at->r > 0 || one.unit == "K" ? when + ", " + in_words::place(one.at->r, one.at->z)
                                          : when;
}

bool is_flag(const Quantity& one) { return one.words.ends_with("(1: yes)"); }

// The quantities of these topics; what is zero did not happen and is left out.
Section numbers(std::string key, std::string title, const std::vector<Quantity>& list,
                std::initializer_list<Topic> topics) {
  Table table(Columns{{"Quantity"}, {"Value", Align::right}, {"Remark"}});
  for (const Topic topic : topics)
    for (const Quantity& one : list)
      if (one.topic == topic && one.value != 0 && !is_flag(one))
        table.add_row({in_words::capitalised(one.words), in_words::quantity(one.value, one.unit),
                       remark(one)});
  return {std::move(key), std::move(title), {table}};
}

Section cell_side_section(const Result& run, const Verdict& verdict) {
  Table table(Columns{{"Layer"},
                      {"Peak", Align::right},
                      {"When", Align::right},
                      {"Limit", Align::right},
                      {"Above limit for", Align::right},
                      {"SEI lost", Align::right},
                      {"Result"},
                      {"Reason of the limit", Align::left, Weight::detail}});
  for (const LayerRecord& layer : cell_side(run, verdict)) {
    const bool limited = is_judged(layer);
    const std::string melted =
        layer.melting_temperature > 0 && layer.peak.value >= layer.melting_temperature
            ? ", reaches its melting point of " + in_words::temperature(layer.melting_temperature)
            : "";
    Prose result = !limited               ? Prose("not judged")
                   : within_limits(layer) ? Prose{{"pass", Tone::good}}
                                          : Prose{{"FAIL", Tone::bad}};
    if (!melted.empty()) result += {melted};
    table.add_row({layer.name, in_words::temperature(layer.peak.value),
                   in_words::duration(layer.peak.time), limit_text(layer),
                   layer.limit > 0 ? in_words::duration(layer.time_above_limit) : "-",
                   damage_text(layer), result, layer.limit_reason});
  }
  Section section{"cell_side", "Cell side", {}};
  if (table.empty()) {
    section.blocks = {Prose("This case has no cell to protect.")};
  } else {
    section.blocks = {
        table,
        Prose(fmt::format("SEI lost: part of the protective layer on the negative electrode that "
                          "decomposes at the hottest place, of layers where it is judged. Its "
                          "rate was measured between {} and {} over minutes; for hotter layers and "
                          "for milliseconds the figure is an extrapolation that serves to compare "
                          "settings.",
                          in_words::temperature(sei_fitted_from),
                          in_words::temperature(sei_fitted_to))),
        Prose(
            "A hot spot at the inner wall lasts milliseconds and is as wide as the weld. It boils "
            "the electrolyte behind it into a film of vapour that insulates, and costs the wall "
            "strength, which \"can puncture\" judges. It does not mean that the winding is warm.")};
  }
  return section;
}

Section energy_section(const Problem& problem, const Result& run) {
  const double given = run.ledger.from_source;
  const auto share = [&](double energy) {
    return given > 0 ? in_words::percent(energy / given) : "n/a";
  };
  Table table(Columns{{"Where"}, {"Energy", Align::right}, {"Share", Align::right}});
  for (const Quantity& line : ledger_sinks(run.parts, run.ledger))
    table.add_row(
        {in_words::capitalised(line.words), in_words::energy(line.value), share(line.value)});
  table.add_row(
      {"Energy balance error", in_words::energy(run.ledger.residual), share(run.ledger.residual)});
  table.add_row(
      {Prose{{"Given up by the source", Tone::strong}}, in_words::energy(given), share(given)});
  std::string text =
      fmt::format("Whole loop, {}.", problem.arrangement.spots == 1
                                         ? std::string("one spot")
                                         : fmt::format("{} spots", problem.arrangement.spots));
  if (!run.history.empty()) {
    const StepRecord& end = run.history.back();
    text += fmt::format(
        " Of the {} delivered to {}, {} left through the ends of the model and {} was still "
        "in the parts at {}.",
        in_words::energy(end.energy_in),
        problem.pressing.unlike_tips() ? "the judged spot" : "one spot",
        in_words::energy(end.energy_out), in_words::energy(end.energy_stored),
        in_words::duration(end.time));
  }
  text += fmt::format(" Largest energy balance error of any step: {:.1e} of the energy of the run.",
                      run.worst_energy_residual);
  return {"energy", "Where the energy went", {table, Prose(text)}};
}

// A computed default has more digits than anyone reads: "4.41558441558 mm" becomes "4.416 mm".
std::string in_few_digits(const std::string& value) {
  constexpr std::ptrdiff_t longest = 7;
  char* rest = nullptr;
  const double number = std::strtod(value.c_str(), &rest);
  if (rest - value.c_str() <= longest) return value;
  return fmt::format("{:.4g}{}", number, rest);
}

// The record of what was computed: every key, numerical settings included.
Section inputs_section(const Case& asked) {
  Table keys(Columns{{"Key"}, {"Value"}, {"Stated or default"}});
  for (const InputValue& input : asked.inputs)
    keys.add_row({input.key, in_few_digits(input.value), input.is_default ? "default" : "stated"});
  Table materials(Columns{{"Material"}, {"Read from"}});
  for (const MaterialUsed& material : asked.materials)
    materials.add_row({material.name, material.file});
  return {"inputs", "Inputs", {keys, materials}};
}

Section defaults_section(const Case& asked) {
  Table table(Columns{{"Key"}, {"Value"}, {"Why", Align::left, Weight::detail}});
  for (const DefaultUsed& used : asked.defaults)
    table.add_row({used.key, in_few_digits(used.value), used.reason});
  Section section{
      "defaults", "Defaults used", {table, Prose("† not checked against the publication.")}};
  if (table.empty()) section.blocks = {Prose("None: the case gives every value.")};
  return section;
}

Section words_section(const Verdict& verdict) {
  Bullets bullets;
  std::vector<std::string> wanted;
  for (const Finding& finding : verdict.findings)
    if (finding.holds) wanted.push_back(words(finding.outcome));
  for (const char* always : {"weld nugget", "margin", "energy balance error"})
    wanted.emplace_back(always);
  for (const std::string& word : wanted)
    if (const Term* term = find_term(word))
      bullets.items.push_back(
          Prose{{in_words::capitalised(term->word), Tone::strong}, {": " + term->meaning}});
  return {"words",
          "Words used here",
          {bullets, Prose{{"tabmelt explain WORD", Tone::code}, {" knows more."}}}};
}

Section learnt_section(const Learnt& learnt) {
  Table table(Columns{{"Key"}, {"Value"}, {"Spread"}});
  for (const LearntValue& value : learnt.values)
    table.add_row({value.key, in_few_digits(value.value), value.spread});
  return {
      "learnt",
      "Learnt values used",
      {Prose(fmt::format("From {} ({}), in place of what the case says. Each spreads by itself: "
                         "what was learnt about two of them together is not in the file.",
                         learnt.file, learnt.about)),
       std::move(table)}};
}

Section notes_section(const Result& run) {
  Bullets bullets;
  for (const std::string& note : run.notes) bullets.items.push_back(note);
  Section section{"notes", "Notes of this run", {bullets}};
  if (run.notes.empty()) section.blocks = {Prose("No property was used outside its range.")};
  return section;
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

Section repetition(const Case& asked, const Result& run, const std::string& folder,
                   const std::string& date) {
  const std::string when = date.empty() ? "" : ", " + date;
  const std::string seconds =
      run.cpu_seconds > 0 ? fmt::format(", {:.2f} s of processor time", run.cpu_seconds) : "";
  return {"repeat",
          "How to repeat this run",
          {CommandLine{fmt::format("tabmelt run {} -o {}", shell_word(asked.file.string()),
                                   shell_word(folder))},
           Prose{{"The field file carries the case as read and with every default filled in ("},
                 {"/texts/case", Tone::code},
                 {", "},
                 {"/texts/full_case", Tone::code},
                 {fmt::format("). tabmelt {}{}; {} cells, {} steps ({} repeated){}.",
                              TABMELT_VERSION, when, run.grid.cells(), run.history.size(),
                              run.rejected_steps, seconds)}}}};
}

}  // namespace

Document report_document(const Case& asked, const Result& run, const Verdict& verdict,
                         const std::string& folder, const std::string& date) {
  const Problem& problem = asked.problem;
  const std::vector<Quantity> list = quantities(problem, run, verdict, bench_figures(problem, run));
  std::vector<Section> sections{
      margins(verdict),
      numbers("weld", "The weld", list, {Topic::verdict, Topic::weld, Topic::heat}),
      numbers("pulse", "The pulse", list, {Topic::electrical}),
      cell_side_section(run, verdict),
      energy_section(problem, run),
      source_section(problem, run, bench_figures(problem, run))};
  if (auto landing = landing_section(problem, run)) sections.push_back(std::move(*landing));
  for (Section& section : bench_sections(problem, run)) sections.push_back(std::move(section));
  if (!asked.learnt.file.empty()) sections.push_back(learnt_section(asked.learnt));
  for (Section& section : std::vector<Section>{inputs_section(asked), defaults_section(asked),
                                               grid_section(run), notes_section(run),
                                               words_section(verdict), limits_of_the_model(problem),
                                               cautions(), repetition(asked, run, folder, date)})
    sections.push_back(std::move(section));
  return {asked.title,
          verdict.good,
          words(verdict.leading),
          verdict.sentence,
          first_notes(asked, run, verdict),
          std::move(sections)};
}

std::string report_text(const Case& asked, const Result& run, const Verdict& verdict,
                        const std::string& folder, const std::string& date) {
  return markdown_text(report_document(asked, run, verdict, folder, date));
}

}  // namespace tabmelt::report
