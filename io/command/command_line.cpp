#include "io/command/command_line.h"

#include "io/command/self_description.h"

namespace tabmelt::command {
namespace {

constexpr const char* purpose =
    R"(What a spot-weld pulse does to a nickel strip and the cell under it: does it fuse, stick or
spark, and how hot does the inside of the cell get.)";

constexpr const char* examples = R"(Examples:
  tabmelt template > mine.toml          a case file to start from
  tabmelt explain strip.thickness       what a key means, its range and default
  tabmelt run mine.toml                 compute; results in results/mine
  tabmelt run cases/*/case.toml -o all  several side by side; results in all/<case name>
  tabmelt run *.toml --brief --keep-going -o all   one table, all/index.csv
  tabmelt run mine.toml --set pressing.force="40 N"  the same with one value changed
  tabmelt check mine.toml && echo safe  only the cell side, for scripts
  tabmelt refine mine.toml              how far its grid and time steps can be trusted
  tabmelt tolerance mine.toml           how sure is it, and what decides?
  tabmelt map mine.toml --over pressing.force="15..60 N" --over strip.thickness="0.1..0.2 mm"
  tabmelt advise mine.toml              what to change, every piece of advice tried
  tabmelt design mine.toml --vary source.parallel=4..20 --least source.parallel   what to build
  tabmelt fit mine.toml pulse.csv --unknown joints.resistance   what a trace tells
  tabmelt learn mine.toml welds.csv     what test welds tell, and which to make next
  tabmelt picture results/mine          draw the pictures again
  tabmelt view results/mine             look at it in a window; ? tells the keys

Exit statuses:
  0  fine
  1  check: a limit of the cell is exceeded
  2  wrong input: case file, result file, command line or output folder
  3  could not be finished: interrupted, disk full (the part file is named), nothing to draw
     or show with
  4  an error of the program itself; please report it
  5  run --require good: all was computed, but a weld is not good
With several cases the highest of 0 to 4 counts. Existing results are never overwritten.

`tabmelt COMMAND --help` tells more. Lithium cells can vent or burn: peel a sample weld
before a pack is welded, and heed local rules and qualified practice.)";

constexpr const char* run_help =
    R"(After several cases comes a table with one line for each; index.csv beside the results holds
the same and, as columns, the keys that differ between the cases. Keys changed by --set are
changed in every case.
Example: tabmelt run mine*.toml --set pressing.force="40 N" --brief --require good -o trial)";

constexpr const char* refine_help =
    R"(Each case is computed three times: as asked, and with its grid 1.5 and 2.25 times finer and
its time steps shorter to match (step_tolerance divided by 1.5^2 and 2.25^2). From the three
values of a figure follows the one without error (Richardson's extrapolation; the observed
order is limited to 1 .. 2), and so the error of the case as asked. The last column is the
error allowed for: 1.25 times the estimate, or three times the largest of estimate and change
where the three values do not approach one steadily (Roache's grid convergence index).
All three together take about twenty times as long as the case itself. Exit statuses as for run.)";

constexpr const char* range_help =
    "Temperatures that the colours span, like 20..400 or \"20..400 degC\" (else the same for "
    "every run, 20 to 3000 degC)";

void add_run(CLI::App& app, RunOptions& options, Chosen& chosen) {
  CLI::App* run = app.add_subcommand("run", "Compute cases, judge the welds, write the results");
  run->add_option("CASE", options.cases, case_help)->required();
  add_settings(*run, options.settings);
  run->add_option("-o,--output", options.folder,
                  "Results folder; several cases: one each inside it (else results/<case name>)")
      ->check(folder_name());
  run->add_flag_callback(
      "--no-pictures", [&options] { options.pictures = false; }, "Draw no pictures");
  run->add_flag_callback(
      "--no-estimate", [&options] { options.estimate = false; },
      "Do not estimate what grid and time steps add: an eighth less time");
  run->add_flag(
      "--advise", options.advise,
      "For a weld that is not good: look for changes that make it good, as `advise` does");
  run->add_flag("--quiet", options.quiet, "No progress bar");
  run->add_flag("--brief", options.brief, "Print only a table with one line per case");
  run->add_flag("--keep-going", options.keep_going,
                "Compute the cases that are right when others are wrong; the exit status says so");
  run->add_option_function<std::string>(
         "--require", [&options](const std::string&) { options.require_good = true; },
         "good: exit status 5 unless every weld is good")
      ->check(CLI::IsMember({"good"}));
  run->add_flag_callback(
      "--no-date", [&options] { options.date = false; },
      "Leave date and seconds out of the files, so that equal runs leave equal files");
  run->footer(run_help);
  on_call(*run, chosen, [&options] { return command::run(options); });
}

// A command that computes cases and leaves no files.
CLI::App& add_without_files(CLI::App& app, const char* name, const char* words,
                            CaseOptions& options) {
  CLI::App* command = app.add_subcommand(name, words);
  command->add_option("CASE", options.cases, case_help)->required();
  add_settings(*command, options.settings);
  command->add_flag("--quiet", options.quiet, "No progress bar");
  return *command;
}

void add_check(CLI::App& app, CaseOptions& options, Chosen& chosen) {
  CLI::App& command = add_without_files(
      app, "check", "Compute cases, tell how hot the cell gets inside; no files", options);
  on_call(command, chosen, [&options] { return check(options); });
}

void add_refine(CLI::App& app, CaseOptions& options, Chosen& chosen) {
  CLI::App& command = add_without_files(
      app, "refine",
      "Compute cases on finer grids and steps, tell the error of their own settings; no files",
      options);
  command.footer(refine_help);
  on_call(command, chosen, [&options] { return refine(options); });
}

void add_picture(CLI::App& app, PictureOptions& options, Chosen& chosen) {
  CLI::App* picture = app.add_subcommand("picture", "Draw the pictures of results");
  picture->add_option("RESULT", options.results, "A result or part file, or its folder")
      ->required();
  picture
      ->add_option("-o,--output", options.folder,
                   "Folder for the pictures (else beside the result)")
      ->check(folder_name());
  CLI::Option* animation = picture->add_flag(
      "--animation", options.animation, "A movie of the spot instead, animation.ogv (Ogg Theora)");
  CLI::Option* frames =
      picture
          ->add_flag("--frames", options.frames,
                     "A numbered picture of each stored moment instead, in frames/")
          ->excludes(animation);
  const auto of_pictures = [&](CLI::Option* option) {
    return option->excludes(animation)->excludes(frames);
  };
  of_pictures(picture->add_option("--only", options.only,
                                  "Only these of section,moments,peak,current,curves,energy"));
  of_pictures(
      picture->add_option("--at", options.moment,
                          "Moment of section and current, with its unit; the others show the "
                          "whole run (else section: largest nugget, or hottest joint; "
                          "current: its peak)"));
  picture->add_option("--range", options.range, range_help);
  of_pictures(picture->add_option("--width", options.width,
                                  "Width in pixels, 640 to 4800 (else 1600); height and letters in "
                                  "proportion"));
  of_pictures(
      picture->add_option("--format", options.format,
                          "Kind of file: png (the default), or svg or pdf, which stay sharp "
                          "at any size"))
      ->check(CLI::IsMember({"png", "svg", "pdf"}));
  picture->footer(
      "A PNG drawn beside the result also takes its place in report.html; with -o elsewhere the\n"
      "report stays as it is.\n"
      "Example: the section at 0.9 ms and the curves, half as large, into a folder of their own\n"
      "  tabmelt picture results/mine --only section,curves --at \"0.9 ms\" --width 800 -o small");
  on_call(*picture, chosen, [&options] { return command::picture(options); });
}

void add_view(CLI::App& app, ViewOptions& options, Chosen& chosen) {
  CLI::App* view = app.add_subcommand("view", "Look at one or two results in a window");
  view->add_option("RESULT", options.results, "A result or part file, or its folder")
      ->required()
      ->expected(1, 2);
  view->add_option("--range", options.range, range_help);
  on_call(*view, chosen, [&options] { return command::view(options); });
}

void add_explain(CLI::App& app, std::optional<std::string>& word, Chosen& chosen) {
  CLI::App* command = app.add_subcommand(
      "explain", "Explain a key of the case file, a verdict, a term or an output");
  command->add_option("WORD", word,
                      "Such as strip.thickness, \"stick weld\" or output; all keys if left out");
  on_call(*command, chosen, [&word] { return explain(word); });
}

// What describes the program itself.
void add_descriptions(CLI::App& app, std::string& shell, Chosen& chosen) {
  CLI::App* completion = app.add_subcommand("completion", "Print a completion script for a shell");
  completion->add_option("SHELL", shell, "bash")->required()->check(CLI::IsMember({"bash"}));
  on_call(*completion, chosen, [&app] { return print_completion(app); });
  on_call(*app.add_subcommand("manual", "Print the manual page, for man(1)"), chosen,
          [&app] { return print_manual(app); });
}

}  // namespace

const CLI::Validator& folder_name() {
  // A variable of a script that is not set must not send results to the current folder.
  static const CLI::Validator validator(
      [](const std::string& name) { return name.empty() ? "an empty text names no folder" : ""; },
      "");
  return validator;
}

void add_settings(CLI::App& command, std::vector<std::string>& settings) {
  command
      .add_option("--set", settings,
                  "key=value laid over the case, such as --set strip.thickness=\"0.2 mm\" or\n"
                  "--set layer.disc.thickness=\"0.3 mm\"; may be repeated")
      ->allow_extra_args(false)
      ->type_name("KEY=VALUE");
}

void on_call(CLI::App& command, Chosen& chosen, Chosen action) {
  command.callback([&chosen, action = std::move(action)] { chosen = action; });
}

void add_commands(CLI::App& app, AllOptions& options, Chosen& chosen) {
  app.description(purpose);
  app.footer(examples);
  app.set_version_flag("--version", "tabmelt " TABMELT_VERSION);
  app.require_subcommand(1);
  add_run(app, options.run, chosen);
  add_check(app, options.check, chosen);
  add_refine(app, options.refine, chosen);
  add_studies(app, options, chosen);
  add_picture(app, options.picture, chosen);
  add_view(app, options.view, chosen);
  add_explain(app, options.word, chosen);
  on_call(*app.add_subcommand("template", "Print a case file to start from"), chosen,
          template_file);
  add_descriptions(app, options.shell, chosen);
}

}  // namespace tabmelt::command
