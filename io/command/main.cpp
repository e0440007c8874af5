// The program: picks the command and turns what it returns or throws into an exit status.
#include <fmt/format.h>
#include <poll.h>

#include <CLI/CLI.hpp>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <sstream>
#include <string_view>

#include "io/command/commands.h"
#include "io/command/failure.h"
#include "io/command/say.h"
#include "io/command/self_description.h"
#include "io/command/studies/study_options.h"

namespace {

using tabmelt::ExitStatus;

constexpr const char* purpose =
    "What a spot-weld pulse does to a nickel strip and the cell under it: does it fuse, stick or\n"
    "spark, and how hot does the inside of the cell get.";

constexpr const char* examples =
    "Examples:\n"
    "  tabmelt template > mine.toml          a case file to start from\n"
    "  tabmelt explain strip.thickness       what a key means, its range and default\n"
    "  tabmelt run mine.toml                 compute; results in results/mine\n"
    "  tabmelt run cases/*/case.toml -o all  several side by side; results in all/<case name>\n"
    "  tabmelt run *.toml --brief --keep-going -o all   one table, all/index.csv\n"
    "  tabmelt run mine.toml --set pressing.force=\"40 N\"  the same with one value changed\n"
    "  tabmelt check mine.toml && echo safe  only the cell side, for scripts\n"
    "  tabmelt refine mine.toml              how far its grid and time steps can be trusted\n"
    "  tabmelt tolerance mine.toml           how sure is it, and what decides?\n"
    "  tabmelt map mine.toml --over pressing.force=\"15..60 N\" --over strip.thickness=\"0.1..0.2 "
    "mm\"\n"
    "  tabmelt advise mine.toml              what to change, every piece of advice tried\n"
    "  tabmelt design mine.toml --vary source.parallel=4..20 --least source.parallel   what to "
    "build\n"
    "  tabmelt fit mine.toml pulse.csv --unknown joints.resistance   what a trace tells\n"
    "  tabmelt learn mine.toml welds.csv     what test welds tell, and which to make next\n"
    "  tabmelt picture results/mine          draw the pictures again\n"
    "  tabmelt view results/mine             look at it in a window; ? tells the keys\n"
    "\n"
    "Exit statuses:\n"
    "  0  fine\n"
    "  1  check: a limit of the cell is exceeded\n"
    "  2  wrong input: case file, result file, command line or output folder\n"
    "  3  could not be finished: interrupted, disk full (the part file is named), nothing to draw\n"
    "     or show with\n"
    "  4  an error of the program itself; please report it\n"
    "  5  run --require good: all was computed, but a weld is not good\n"
    "With several cases the highest of 0 to 4 counts. Existing results are never overwritten.\n"
    "\n"
    "`tabmelt COMMAND --help` tells more. Lithium cells can vent or burn: peel a sample weld\n"
    "before a pack is welded, and heed local rules and qualified practice.";

constexpr const char* run_help =
    "After several cases comes a table with one line for each; index.csv beside the results holds\n"
    "the same and, as columns, the keys that differ between the cases. Keys changed by --set are\n"
    "changed in every case.\n"
    "Example: tabmelt run mine*.toml --set pressing.force=\"40 N\" --brief --require good -o trial";

constexpr const char* refine_help =
    "Each case is computed three times: as asked, and with its grid 1.5 and 2.25 times finer and\n"
    "its time steps shorter to match (step_tolerance divided by 1.5^2 and 2.25^2). From the three\n"
    "values of a figure follows the one without error (Richardson's extrapolation; the observed\n"
    "order is limited to 1 .. 2), and so the error of the case as asked. The last column is the\n"
    "error allowed for: 1.25 times the estimate, or three times the largest of estimate and "
    "change\n"
    "where the three values do not approach one steadily (Roache's grid convergence index).\n"
    "All three together take about twenty times as long as the case itself. Exit statuses as for "
    "run.";

constexpr const char* tolerance_help =
    "What is uncertain, and how much, stands with each key (tabmelt explain KEY) or in the case "
    "as\n"
    "spread.KEY = \"20 %\". The answer goes to standard output and, with a picture and a table of "
    "the\n"
    "runs, into the folder: tolerance.md, tolerance.png, tolerance.csv. Ctrl-C keeps every "
    "finished\n"
    "run; the same command goes on from there.";

constexpr const char* map_help =
    "A coarse grid is run first, then only squares whose corners differ are split. Runs that are "
    "in\n"
    "the folder are used again, so a finer map costs only what is new. Left in the folder: a "
    "picture,\n"
    "a table (CSV) and an HDF5 file with units and the complete case.\n"
    "Example: tabmelt map mine.toml --over source.charge_voltage=\"4..9 V\" \\\n"
    "                               --over pressing.force=\"15..60 N\"";

constexpr const char* advise_help =
    "Voltage, parts in parallel, pulse, force, tip, slit, strip and leads are changed one at a "
    "time,\n"
    "then in pairs, then all together. Each change that is named was run: the smallest one, and "
    "the\n"
    "middle of the stretch that is good, with its margin and its chance. If nothing helps, the "
    "two\n"
    "limits that exclude each other are named.";

constexpr const char* design_help =
    "The expression knows the varied keys, each in its natural unit, and peak_current [A], energy "
    "[J],\n"
    "nugget_diameter [m] and peak_inner_wall [K]. Whole numbers stay whole.\n"
    "Example: tabmelt design mine.toml --vary source.parallel=4..20 \\\n"
    "           --vary source.charge_voltage=\"4..12 V\" --least \"source.parallel\" --chance 0.9";

constexpr const char* fit_help =
    "A trace is text in columns: the first line names them with their units, time [ms] and any of\n"
    "current [A], tip voltage [V], source voltage [V]; start it a millisecond before the pulse. "
    "The\n"
    "time at which the pulse begins, the zero of current and tip voltage and the noise are found.\n"
    "Several traces are fitted together, each to its case; --short adds one of the first case's\n"
    "welder with its tips on a thick bar of copper. Left in the folder: fit.md, fit.png, fit.csv.\n"
    "Example: tabmelt fit mine.toml pulse.csv --short bar.csv --unknown source.part_esr \\\n"
    "           --unknown joints.resistance --unknown leads.inductance --write fitted.toml";

constexpr const char* learn_help =
    "The table has a line for each test weld: any keys of the case with their units, and what "
    "came\n"
    "out: held (yes, no), peel (button, clean), peel force [N], spark, stuck tip, hole (yes, no);\n"
    "blanks are allowed. The spreads of the case are what is believed before. Left in the folder:\n"
    "learn.md, learn.png, learn.csv.\n"
    "Example: tabmelt learn mine.toml welds.csv --at \"pressing.force=25 N\" --write learnt.toml";

constexpr const char* case_help =
    "A case file, a folder holding case.toml, or - for standard input";

// A variable of a script that is not set must not send results to the current folder.
const CLI::Validator folder_name(
    [](const std::string& name) { return name.empty() ? "an empty text names no folder" : ""; },
    "");

void add_settings(CLI::App& command, std::vector<std::string>& settings) {
  command
      .add_option("--set", settings,
                  "key=value laid over the case, such as --set strip.thickness=\"0.2 mm\" or\n"
                  "--set layer.disc.thickness=\"0.3 mm\"; may be repeated")
      ->allow_extra_args(false)
      ->type_name("KEY=VALUE");
}

void add_study_of(CLI::App& command, tabmelt::StudyOptions& options) {
  add_settings(command, options.settings);
  command
      .add_option("-o,--output", options.folder,
                  "Folder of the study (else studies/<case name>); runs that are there already "
                  "are not computed again")
      ->check(folder_name);
  command.add_flag_callback(
      "--no-pictures", [&options] { options.pictures = false; }, "Draw no picture");
  command.add_flag("--quiet", options.quiet, "No progress on the terminal");
}

void add_study(CLI::App& command, tabmelt::StudyOptions& options) {
  command.add_option("CASE", options.asked, case_help)->required();
  add_study_of(command, options);
}

// A failed assertion or a library's abort() is our bug; say so instead of dying of a signal.
void report_abort(int) {
  constexpr std::string_view text = "tabmelt: internal error, please report it\n";
  std::fwrite(text.data(), 1, text.size(), stderr);
  std::_Exit(static_cast<int>(ExitStatus::own_bug));
}

int number(ExitStatus status) { return static_cast<int>(status); }

// Whoever read standard output from a pipe has seen enough, as `head` does: nothing to complain of.
bool reader_has_gone() {
  pollfd out{1, 0, 0};
  return ::poll(&out, 1, 0) == 1 && (out.revents & POLLERR) != 0;
}

ExitStatus status_of(const std::function<ExitStatus()>& command) {
  try {
    const ExitStatus status = command();
    // A full disk behind a redirected standard output shows here.
    const bool lost = std::fflush(stdout) != 0 || std::ferror(stdout) != 0;
    if (lost && !reader_has_gone()) {
      fmt::print(stderr, "tabmelt: standard output could not be written\n");
      return std::max(status, ExitStatus::unfinished);
    }
    return status;
  } catch (...) {
    const tabmelt::Failure failure = tabmelt::current_failure();
    tabmelt::say(stderr, failure.message);
    return failure.status;
  }
}

}  // namespace

int main(int argument_count, char** arguments) {
  tabmelt::hold_standard_descriptors();
  std::signal(SIGABRT, report_abort);
  std::signal(SIGPIPE, SIG_IGN);

  CLI::App app(purpose, "tabmelt");
  app.footer(examples);
  app.set_version_flag("--version", "tabmelt " TABMELT_VERSION);
  app.require_subcommand(1);
  std::function<ExitStatus()> chosen;

  tabmelt::RunOptions run_options;
  CLI::App* run = app.add_subcommand("run", "Compute cases, judge the welds, write the results");
  run->add_option("CASE", run_options.cases, case_help)->required();
  add_settings(*run, run_options.settings);
  run->add_option("-o,--output", run_options.folder,
                  "Results folder; several cases: one each inside it (else results/<case name>)")
      ->check(folder_name);
  run->add_flag_callback(
      "--no-pictures", [&] { run_options.pictures = false; }, "Draw no pictures");
  run->add_flag(
      "--advise", run_options.advise,
      "For a weld that is not good: look for changes that make it good, as `advise` does");
  run->add_flag("--quiet", run_options.quiet, "No progress bar");
  run->add_flag("--brief", run_options.brief, "Print only a table with one line per case");
  run->add_flag("--keep-going", run_options.keep_going,
                "Compute the cases that are right when others are wrong; the exit status says so");
  run->add_option_function<std::string>(
         "--require", [&](const std::string&) { run_options.require_good = true; },
         "good: exit status 5 unless every weld is good")
      ->check(CLI::IsMember({"good"}));
  run->add_flag_callback(
      "--no-date", [&] { run_options.date = false; },
      "Leave date and seconds out of the files, so that equal runs leave equal files");
  run->footer(run_help);
  run->callback([&] { chosen = [&] { return tabmelt::run(run_options); }; });

  tabmelt::CheckOptions check_options;
  CLI::App* check =
      app.add_subcommand("check", "Compute cases, tell how hot the cell gets inside; no files");
  check->add_option("CASE", check_options.cases, case_help)->required();
  add_settings(*check, check_options.settings);
  check->add_flag("--quiet", check_options.quiet, "No progress bar");
  check->callback([&] { chosen = [&] { return tabmelt::check(check_options); }; });

  tabmelt::RefineOptions refine_options;
  CLI::App* refine = app.add_subcommand(
      "refine",
      "Compute cases on finer grids and steps, tell the error of their own settings; no files");
  refine->add_option("CASE", refine_options.cases, case_help)->required();
  add_settings(*refine, refine_options.settings);
  refine->add_flag("--quiet", refine_options.quiet, "No progress bar");
  refine->footer(refine_help);
  refine->callback([&] { chosen = [&] { return tabmelt::refine(refine_options); }; });

  tabmelt::ToleranceOptions tolerance_options;
  CLI::App* tolerance = app.add_subcommand(
      "tolerance", "Many runs over all that is uncertain: how sure is the weld, what decides?");
  add_study(*tolerance, tolerance_options.study);
  tolerance->add_option("--draws", tolerance_options.draws, "Runs drawn (else 200)")
      ->check(CLI::Range(10, 1000000));
  tolerance->add_flag_callback(
      "--no-windows", [&] { tolerance_options.windows = false; },
      "Do not look how far each key alone may drift");
  tolerance->footer(tolerance_help);
  tolerance->callback([&] { chosen = [&] { return tabmelt::tolerance(tolerance_options); }; });

  tabmelt::MapOptionsAsked map_options;
  CLI::App* map = app.add_subcommand(
      "map", "The weld lobe: what becomes of the weld over two keys, computed where it changes");
  add_study(*map, map_options.study);
  map->add_option("--over", map_options.over,
                  "KEY=from..to, twice; such as --over pressing.force=\"15..60 N\"")
      ->required()
      ->allow_extra_args(false)
      ->type_name("KEY=FROM..TO");
  map->add_option("--cells", map_options.cells, "Squares along each side, a power of two (else 64)")
      ->check(CLI::Range(2, 1024));
  map->add_option("--coarse", map_options.coarse, "Squares of the first grid (else 8)")
      ->check(CLI::Range(1, 1024));
  map->add_flag("--chance", map_options.chance,
                "Draw the chance of a good weld instead, from --draws runs at each point");
  map->add_option("--draws", map_options.draws, "For --chance (else 32)")
      ->check(CLI::Range(2, 100000));
  map->footer(map_help);
  map->callback([&] { chosen = [&] { return tabmelt::map(map_options); }; });

  tabmelt::AdviseOptions advise_options;
  CLI::App* advise = app.add_subcommand(
      "advise", "The smallest changes that make the weld good, each of them tried");
  add_study(*advise, advise_options.study);
  advise
      ->add_option("--draws", advise_options.draws,
                   "Runs for the chance of each piece of advice (else 32; 0: none)")
      ->check(CLI::Range(0, 100000));
  advise->footer(advise_help);
  advise->callback([&] { chosen = [&] { return tabmelt::advise(advise_options); }; });

  tabmelt::DesignOptions design_options;
  CLI::App* design = app.add_subcommand(
      "design", "The cheapest set-up whose chance of a good weld is high enough");
  add_study(*design, design_options.study);
  design
      ->add_option("--vary", design_options.vary,
                   "KEY=from..to, as often as there are keys to vary")
      ->required()
      ->allow_extra_args(false)
      ->type_name("KEY=FROM..TO");
  design->add_option("--least", design_options.least, "What shall be small: an expression")
      ->required();
  design->add_option("--chance", design_options.chance, "Wanted chance of a good weld (else 0.9)")
      ->check(CLI::Range(0.01, 0.999));
  design->add_option("--draws", design_options.draws, "Runs for the chance of a set-up (else 32)")
      ->check(CLI::Range(2, 100000));
  design->add_option("--trials", design_options.evaluations, "Set-ups tried at most (else 150)")
      ->check(CLI::Range(3, 100000));
  design->footer(design_help);
  design->callback([&] { chosen = [&] { return tabmelt::design(design_options); }; });

  tabmelt::FitOptions fit_options;
  CLI::App* fit =
      app.add_subcommand("fit", "Numbers of the case from a measured trace of current or voltage");
  fit->add_option("CASE TRACE", fit_options.pairs,
                  "A case and the trace of one of its pulses; more pairs are fitted together")
      ->required();
  fit->add_option("--unknown", fit_options.unknowns, "KEY to be found; several")
      ->required()
      ->allow_extra_args(false)
      ->type_name("KEY");
  fit->add_option("--short", fit_options.shorts,
                  "Trace with the tips on a thick bar of copper, without a weld")
      ->allow_extra_args(false)
      ->type_name("TRACE");
  fit->add_option("--bar", fit_options.bar,
                  "Resistance of that bar with its two contacts (else 0.05 mohm)");
  fit->add_option("--write", fit_options.write,
                  "Write the case with what was found to this file, values and spreads beside it");
  add_study_of(*fit, fit_options.study);
  fit->footer(fit_help);
  fit->callback([&] { chosen = [&] { return tabmelt::fit(fit_options); }; });

  tabmelt::LearnOptions learn_options;
  CLI::App* learn = app.add_subcommand(
      "learn", "What test welds tell: of the unknowns, of other settings, and which weld to try");
  learn->add_option("CASE", learn_options.study.asked, case_help)->required();
  learn->add_option("WELDS", learn_options.welds, "A table of test welds")->required();
  learn->add_option("--unknown", learn_options.unknowns, "Learn only of this KEY; several")
      ->allow_extra_args(false)
      ->type_name("KEY");
  learn
      ->add_option("--at", learn_options.at,
                   "Chance of a good weld at another setting: KEY=VALUE,KEY=VALUE; several")
      ->allow_extra_args(false)
      ->type_name("SETTING");
  learn
      ->add_option("--try", learn_options.tries,
                   "KEY=from..to of the next test weld (else around those made)")
      ->allow_extra_args(false)
      ->type_name("KEY=FROM..TO");
  learn
      ->add_option("--wrong-note", learn_options.wrong_note,
                   "Chance that a note in the table is wrong (else 0.03)")
      ->check(CLI::Range(0.0001, 0.4));
  learn->add_option("--draws", learn_options.draws, "Draws in each round (else 200)")
      ->check(CLI::Range(20, 100000));
  learn
      ->add_option("--rounds", learn_options.rounds,
                   "Rounds at most, where few draws explain the notes (else 4)")
      ->check(CLI::Range(1, 20));
  learn
      ->add_option("--candidates", learn_options.candidates,
                   "Settings looked at for the next weld (else 16; 0: none)")
      ->check(CLI::Range(0, 10000));
  learn->add_option("--write", learn_options.write,
                    "Write the case with what was learnt to this file, values and spreads beside");
  add_study_of(*learn, learn_options.study);
  learn->footer(learn_help);
  learn->callback([&] { chosen = [&] { return tabmelt::learn(learn_options); }; });

  tabmelt::PictureOptions picture_options;
  CLI::App* picture = app.add_subcommand("picture", "Draw the pictures of results");
  picture->add_option("RESULT", picture_options.results, "A result or part file, or its folder")
      ->required();
  picture
      ->add_option("-o,--output", picture_options.folder,
                   "Folder for the pictures (else beside the result)")
      ->check(folder_name);
  CLI::Option* animation =
      picture->add_flag("--animation", picture_options.animation,
                        "A movie of the spot instead, animation.ogv (Ogg Theora)");
  CLI::Option* frames =
      picture
          ->add_flag("--frames", picture_options.frames,
                     "A numbered picture of each stored moment instead, in frames/")
          ->excludes(animation);
  const auto of_pictures = [&](CLI::Option* option) {
    return option->excludes(animation)->excludes(frames);
  };
  of_pictures(picture->add_option("--only", picture_options.only,
                                  "Only these of section,moments,peak,current,curves,energy"));
  of_pictures(
      picture->add_option("--at", picture_options.moment,
                          "Moment of section and current, with its unit; the others show the "
                          "whole run (else section: largest nugget, or hottest joint; "
                          "current: its peak)"));
  constexpr const char* range_help =
      "Temperatures that the colours span, like 20..400 or \"20..400 degC\" (else the same for "
      "every run, 20 to 3000 degC)";
  picture->add_option("--range", picture_options.range, range_help);
  of_pictures(picture->add_option("--width", picture_options.width,
                                  "Width in pixels, 640 to 4800 (else 1600); height and letters in "
                                  "proportion"));
  of_pictures(
      picture->add_option("--format", picture_options.format,
                          "Kind of file: png (the default), or svg or pdf, which stay sharp "
                          "at any size"))
      ->check(CLI::IsMember({"png", "svg", "pdf"}));
  picture->footer(
      "A PNG drawn beside the result also takes its place in report.html; with -o elsewhere the\n"
      "report stays as it is.\n"
      "Example: the section at 0.9 ms and the curves, half as large, into a folder of their own\n"
      "  tabmelt picture results/mine --only section,curves --at \"0.9 ms\" --width 800 -o small");
  picture->callback([&] { chosen = [&] { return tabmelt::picture(picture_options); }; });

  tabmelt::ViewOptions view_options;
  CLI::App* view = app.add_subcommand("view", "Look at one or two results in a window");
  view->add_option("RESULT", view_options.results, "A result or part file, or its folder")
      ->required()
      ->expected(1, 2);
  view->add_option("--range", view_options.range, range_help);
  view->callback([&] { chosen = [&] { return tabmelt::view(view_options); }; });

  std::optional<std::string> key;
  CLI::App* explain = app.add_subcommand(
      "explain", "Explain a key of the case file, a verdict, a term or an output");
  explain->add_option("WORD", key,
                      "Such as strip.thickness, \"stick weld\" or output; all keys if left out");
  explain->callback([&] { chosen = [&] { return tabmelt::explain(key); }; });

  app.add_subcommand("template", "Print a case file to start from")->callback([&] {
    chosen = tabmelt::template_file;
  });

  std::string shell;
  CLI::App* completion = app.add_subcommand("completion", "Print a completion script for a shell");
  completion->add_option("SHELL", shell, "bash")->required()->check(CLI::IsMember({"bash"}));
  completion->callback([&] { chosen = [&] { return tabmelt::print_completion(app); }; });
  app.add_subcommand("manual", "Print the manual page, for man(1)")->callback([&] {
    chosen = [&] { return tabmelt::print_manual(app); };
  });

  try {
    app.parse(argument_count, arguments);
  } catch (const CLI::ParseError& error) {
    const std::vector<std::string> asked(arguments + 1, arguments + argument_count);
    const auto meant = error.get_exit_code() == 0 ? std::nullopt : tabmelt::suggestion(app, asked);
    if (meant) {
      tabmelt::say(stderr, fmt::format("tabmelt: {}\n`tabmelt --help` tells more.\n", *meant));
      return number(ExitStatus::wrong_input);
    }
    // Its message repeats what was typed, or what a script took from elsewhere.
    std::ostringstream told, complaint;
    const bool asked_for_help = app.exit(error, told, complaint) == 0;
    tabmelt::say(stdout, told.str());
    tabmelt::say(stderr, complaint.str());
    return number(asked_for_help ? ExitStatus::fine : ExitStatus::wrong_input);
  }
  const ExitStatus status = status_of(chosen);
  if (status == ExitStatus::fine) return number(status);
  // Without the exit handlers of the libraries: HDF5's crash on a file that could not be written.
  std::fflush(nullptr);
  std::_Exit(number(status));
}
