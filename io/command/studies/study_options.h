// What the commands with many runs are asked for; main.cpp fills them in.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "io/command/exit_status.h"

namespace tabmelt {

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

// How sure the weld is.
ExitStatus tolerance(const ToleranceOptions&);
// The lobe over two keys.
ExitStatus map(const MapOptionsAsked&);
// Changes that make the weld good, found by trying.
ExitStatus advise(const AdviseOptions&);
// The cheapest set-up that is sure enough.
ExitStatus design(const DesignOptions&);

}  // namespace tabmelt
