// What the commands with many runs are asked for; main.cpp fills them in.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "io/command/exit_status.h"

namespace tabmelt::command {

struct StudyOptions {
  std::string asked;                  // CASE
  std::vector<std::string> settings;  // --set key=value
  std::optional<std::string> folder;  // -o; unset: studies/<case name>
  bool pictures = true;
  bool quiet = false;
};

struct ToleranceOptions {
  StudyOptions study;
  int draws = 200;
  bool windows = true;
};

struct MapOptionsAsked {
  StudyOptions study;
  std::vector<std::string> over;  // KEY=from..to, twice
  int cells = 64;
  int coarse = 8;
  bool chance = false;
  int draws = 32;
};

struct AdviseOptions {
  StudyOptions study;
  int draws = 32;  // for the chance of each piece of advice; 0: none
};

struct DesignOptions {
  StudyOptions study;
  std::vector<std::string> vary;  // KEY=from..to
  std::string least;              // expression
  double chance = 0.9;
  int draws = 32;
  int evaluations = 150;
};

struct FitOptions {
  StudyOptions study;
  std::vector<std::string> pairs;   // CASE TRACE CASE TRACE ...
  std::vector<std::string> shorts;  // traces into a bar of copper, of the first case's welder
  std::string bar = "0.05 mohm";
  std::string scale_error = "0 %";  // of the current's calibration
  std::vector<std::string> unknowns;
  std::optional<std::string> write;
};

struct LearnOptions {
  StudyOptions study;
  std::string welds;                  // table
  std::vector<std::string> unknowns;  // empty: all that spread
  std::vector<std::string> at;        // KEY=VALUE,KEY=VALUE: settings whose chance is wanted
  std::vector<std::string> tries;     // KEY=from..to, of the next weld
  double wrong_note = 0.03;           // [1]
  int draws = 200;
  int rounds = 4;
  int candidates = 16;
  std::optional<std::string> write;
};

// How sure the weld is.
ExitStatus tolerance(const ToleranceOptions&);
// The lobe over two keys.
ExitStatus map(const MapOptionsAsked&);
// Changes that make the weld good, found by trying.
ExitStatus advise(const AdviseOptions&);
// The cheapest set-up that is sure enough.
ExitStatus design(const DesignOptions&);
// Numbers of the case from measured traces.
ExitStatus fit(const FitOptions&);
// What is believed of the unknowns after test welds.
ExitStatus learn(const LearnOptions&);

}  // namespace tabmelt::command
