// The commands, their options and what each prints for --help.
#pragma once

#include <CLI/CLI.hpp>
#include <functional>
#include <optional>
#include <string>

#include "io/command/commands.h"
#include "io/command/studies/study_options.h"

namespace tabmelt::command {

// What the person asked for, with nothing left but to do it.
using Chosen = std::function<ExitStatus()>;

// Where the options of each command go.
struct AllOptions {
  RunOptions run;
  CaseOptions check, refine;
  ToleranceOptions tolerance;
  MapOptionsAsked map;
  AdviseOptions advise;
  DesignOptions design;
  FitOptions fit;
  LearnOptions learn;
  PictureOptions picture;
  ViewOptions view;
  std::optional<std::string> word;  // of explain
  std::string shell;                // of completion
};

// `app`, `options` and `chosen` outlive the parsing. Afterwards `chosen` is the command asked for.
void add_commands(CLI::App& app, AllOptions& options, Chosen& chosen);
// tolerance, map, advise, design, fit, learn.
void add_studies(CLI::App& app, AllOptions& options, Chosen& chosen);

// Shared by commands that read cases.
inline constexpr const char* case_help =
    "A case file, a folder holding case.toml, or - for standard input";
const CLI::Validator& folder_name();
void add_settings(CLI::App& command, std::vector<std::string>& settings);
void on_call(CLI::App& command, Chosen& chosen, Chosen action);

}  // namespace tabmelt::command
