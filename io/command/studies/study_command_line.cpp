#include "io/command/command_line.h"

namespace tabmelt::command {
namespace {

constexpr const char* tolerance_help =
    R"(What is uncertain, and how much, stands with each key (tabmelt explain KEY) or in the case as
spread.KEY = "20 %". The answer goes to standard output and, with a picture and a table of the
runs, into the folder: tolerance.md, tolerance.png, tolerance.csv. Ctrl-C keeps every finished
run; the same command goes on from there.)";

constexpr const char* map_help =
    R"(A coarse grid is run first, then only squares whose corners differ are split. Runs that are in
the folder are used again, so a finer map costs only what is new. Left in the folder: a picture,
a table (CSV) and an HDF5 file with units and the complete case.
Example: tabmelt map mine.toml --over source.charge_voltage="4..9 V" \
                               --over pressing.force="15..60 N")";

constexpr const char* advise_help =
    R"(Voltage, parts in parallel, pulse, force, tip, slit, strip and leads are changed one at a time,
then in pairs, then all together. Each change that is named was run: the smallest one, and the
middle of the stretch that is good, with its margin and its chance. If nothing helps, the two
limits that exclude each other are named.)";

constexpr const char* design_help =
    R"(The expression knows the varied keys, each in its natural unit, and peak_current [A], energy [J],
nugget_diameter [m] and peak_inner_wall [K]. Whole numbers stay whole.
Example: tabmelt design mine.toml --vary source.parallel=4..20 \
           --vary source.charge_voltage="4..12 V" --least "source.parallel" --chance 0.9)";

constexpr const char* fit_help =
    R"(A trace is text in columns: the first line names them with their units, time [ms] and any of
current [A], tip voltage [V], source voltage [V]; start it a millisecond before the pulse. The
time at which the pulse begins, the zero of current and tip voltage and the noise are found.
Several traces are fitted together, each to its case; --short adds one of the first case's
welder with its tips on a thick bar of copper. Left in the folder: fit.md, fit.png, fit.csv.
Example: tabmelt fit mine.toml pulse.csv --short bar.csv --unknown source.part_esr \
           --unknown joints.resistance --unknown leads.inductance --write fitted.toml)";

constexpr const char* learn_help =
    R"(The table has a line for each test weld: any keys of the case with their units, and what came
out: held (yes, no), peel (button, clean), peel force [N], spark, stuck tip, hole (yes, no);
blanks are allowed. The spreads of the case are what is believed before. Left in the folder:
learn.md, learn.png, learn.csv.
Example: tabmelt learn mine.toml welds.csv --at "pressing.force=25 N" --write learnt.toml)";

void add_study_of(CLI::App& command, StudyOptions& options) {
  add_settings(command, options.settings);
  command
      .add_option("-o,--output", options.folder,
                  "Folder of the study (else studies/<case name>); runs that are there already "
                  "are not computed again")
      ->check(folder_name());
  command.add_flag_callback(
      "--no-pictures", [&options] { options.pictures = false; }, "Draw no picture");
  command.add_flag("--quiet", options.quiet, "No progress on the terminal");
}

void add_study(CLI::App& command, StudyOptions& options) {
  command.add_option("CASE", options.asked, case_help)->required();
  add_study_of(command, options);
}

void add_tolerance(CLI::App& app, ToleranceOptions& options, Chosen& chosen) {
  CLI::App* tolerance = app.add_subcommand(
      "tolerance", "Many runs over all that is uncertain: how sure is the weld, what decides?");
  add_study(*tolerance, options.study);
  tolerance->add_option("--draws", options.draws, "Runs drawn (else 200)")
      ->check(CLI::Range(10, 1000000));
  tolerance->add_flag_callback(
      "--no-windows", [&options] { options.windows = false; },
      "Do not look how far each key alone may drift");
  tolerance->footer(tolerance_help);
  on_call(*tolerance, chosen, [&options] { return command::tolerance(options); });
}

void add_map(CLI::App& app, MapOptionsAsked& options, Chosen& chosen) {
  CLI::App* map = app.add_subcommand(
      "map", "The weld lobe: what becomes of the weld over two keys, computed where it changes");
  add_study(*map, options.study);
  map->add_option("--over", options.over,
                  "KEY=from..to, twice; such as --over pressing.force=\"15..60 N\"")
      ->required()
      ->allow_extra_args(false)
      ->type_name("KEY=FROM..TO");
  map->add_option("--cells", options.cells, "Squares along each side, a power of two (else 64)")
      ->check(CLI::Range(2, 1024));
  map->add_option("--coarse", options.coarse, "Squares of the first grid (else 8)")
      ->check(CLI::Range(1, 1024));
  map->add_flag("--chance", options.chance,
                "Draw the chance of a good weld instead, from --draws runs at each point");
  map->add_option("--draws", options.draws, "For --chance (else 32)")->check(CLI::Range(2, 100000));
  map->footer(map_help);
  on_call(*map, chosen, [&options] { return command::map(options); });
}

void add_advise(CLI::App& app, AdviseOptions& options, Chosen& chosen) {
  CLI::App* advise = app.add_subcommand(
      "advise", "The smallest changes that make the weld good, each of them tried");
  add_study(*advise, options.study);
  advise
      ->add_option("--draws", options.draws,
                   "Runs for the chance of each piece of advice (else 32; 0: none)")
      ->check(CLI::Range(0, 100000));
  advise->footer(advise_help);
  on_call(*advise, chosen, [&options] { return command::advise(options); });
}

void add_design(CLI::App& app, DesignOptions& options, Chosen& chosen) {
  CLI::App* design = app.add_subcommand(
      "design", "The cheapest set-up whose chance of a good weld is high enough");
  add_study(*design, options.study);
  design->add_option("--vary", options.vary, "KEY=from..to, as often as there are keys to vary")
      ->required()
      ->allow_extra_args(false)
      ->type_name("KEY=FROM..TO");
  design->add_option("--least", options.least, "What shall be small: an expression")->required();
  design->add_option("--chance", options.chance, "Wanted chance of a good weld (else 0.9)")
      ->check(CLI::Range(0.01, 0.999));
  design->add_option("--draws", options.draws, "Runs for the chance of a set-up (else 32)")
      ->check(CLI::Range(2, 100000));
  design->add_option("--trials", options.evaluations, "Set-ups tried at most (else 150)")
      ->check(CLI::Range(3, 100000));
  design->footer(design_help);
  on_call(*design, chosen, [&options] { return command::design(options); });
}

void add_fit(CLI::App& app, FitOptions& options, Chosen& chosen) {
  CLI::App* fit =
      app.add_subcommand("fit", "Numbers of the case from a measured trace of current or voltage");
  fit->add_option("CASE-AND-TRACE", options.pairs,
                  "A case and the trace of one of its pulses; more pairs are fitted together")
      ->required();
  fit->add_option("--unknown", options.unknowns, "KEY to be found; several")
      ->required()
      ->allow_extra_args(false)
      ->type_name("KEY");
  fit->add_option("--short", options.shorts,
                  "Trace with the tips on a thick bar of copper, without a weld")
      ->allow_extra_args(false)
      ->type_name("TRACE");
  fit->add_option("--bar", options.bar,
                  "Resistance of that bar with its two contacts (else 0.05 mohm)");
  fit->add_option("--scale-error", options.scale_error,
                  "How well the scale of the current is known, as a standard deviation: \"1 %\" of "
                  "the shunt (else it counts as right)");
  fit->add_option("--write", options.write,
                  "Write the case with what was found to this file, values and spreads beside it");
  add_study_of(*fit, options.study);
  fit->footer(fit_help);
  on_call(*fit, chosen, [&options] { return command::fit(options); });
}

void add_learn(CLI::App& app, LearnOptions& options, Chosen& chosen) {
  CLI::App* learn = app.add_subcommand(
      "learn", "What test welds tell: of the unknowns, of other settings, and which weld to try");
  learn->add_option("CASE", options.study.asked, case_help)->required();
  learn->add_option("WELDS", options.welds, "A table of test welds")->required();
  learn->add_option("--unknown", options.unknowns, "Learn only of this KEY; several")
      ->allow_extra_args(false)
      ->type_name("KEY");
  learn
      ->add_option("--at", options.at,
                   "Chance of a good weld at another setting: KEY=VALUE,KEY=VALUE; several")
      ->allow_extra_args(false)
      ->type_name("SETTING");
  learn
      ->add_option("--try", options.tries,
                   "KEY=from..to of the next test weld (else around those made)")
      ->allow_extra_args(false)
      ->type_name("KEY=FROM..TO");
  learn
      ->add_option("--wrong-note", options.wrong_note,
                   "Chance that a note in the table is wrong (else 0.03)")
      ->check(CLI::Range(0.0001, 0.4));
  learn->add_option("--draws", options.draws, "Draws in each round (else 200)")
      ->check(CLI::Range(20, 100000));
  learn
      ->add_option("--rounds", options.rounds,
                   "Rounds at most, where few draws explain the notes (else 4)")
      ->check(CLI::Range(1, 20));
  learn
      ->add_option("--candidates", options.candidates,
                   "Settings looked at for the next weld (else 16; 0: none)")
      ->check(CLI::Range(0, 10000));
  learn->add_option("--write", options.write,
                    "Write the case with what was learnt to this file, values and spreads beside");
  add_study_of(*learn, options.study);
  learn->footer(learn_help);
  on_call(*learn, chosen, [&options] { return command::learn(options); });
}

}  // namespace

void add_studies(CLI::App& app, AllOptions& options, Chosen& chosen) {
  add_tolerance(app, options.tolerance, chosen);
  add_map(app, options.map, chosen);
  add_advise(app, options.advise, chosen);
  add_design(app, options.design, chosen);
  add_fit(app, options.fit, chosen);
  add_learn(app, options.learn, chosen);
}

}  // namespace tabmelt::command
