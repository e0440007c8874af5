// The commands of the program, one file each. They throw what their input deserves; main turns
// that into an exit status (failure.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "io/command/exit_status.h"

namespace tabmelt::command {

struct RunOptions {
  std::vector<std::string> cases;
  std::vector<std::string> settings;  // --set key=value
  std::optional<std::string> folder;  // -o; unset: results/<case name>
  bool pictures = true;
  bool estimate = true;  // of what grid and time steps add
  bool advise = false;   // look for changes that make a bad weld good
  bool quiet = false;
  bool brief = false;         // only the table of all cases
  bool keep_going = false;    // leave out cases that are wrong
  bool require_good = false;  // not_good unless every weld is good
  bool date = true;           // of the run, and the seconds it took, in the files
};

// Of check and refine.
struct CaseOptions {
  std::vector<std::string> cases;
  std::vector<std::string> settings;  // --set key=value
  bool quiet = false;
};

struct PictureOptions {
  std::vector<std::string> results;
  std::optional<std::string> folder;  // -o; unset: beside the result
  bool animation = false;             // a movie instead of the pictures
  bool frames = false;                // numbered pictures instead of them
  std::optional<std::string> only;    // names, separated by commas; unset: all
  std::optional<std::string> moment;  // of section and current, with its unit: "0.9 ms"
  std::optional<std::string> range;   // temperatures of the colours: "20..400"
  std::optional<int> width;           // [pixels]
  std::optional<std::string> format;  // png, svg or pdf
};

struct ViewOptions {
  std::vector<std::string> results;  // one or two
  std::optional<std::string> range;  // temperatures of the colours: "20..400"
};

// Computes each case, writes its results and prints verdict, ledger and cell side.
ExitStatus run(const RunOptions&);
// Computes each case, writes nothing and prints the cell side; limit_exceeded if one is.
ExitStatus check(const CaseOptions&);
// Computes each case on its own grid and two finer ones, writes nothing and prints the estimated
// error of its own grid and steps.
ExitStatus refine(const CaseOptions&);
// Draws the pictures of results that are there already.
ExitStatus picture(const PictureOptions&);
// Opens a window on one or two results and returns when it is closed.
ExitStatus view(const ViewOptions&);
// Prints what a key of the case file means; without a key, all of them.
ExitStatus explain(const std::optional<std::string>& key);
// Prints a case file to start from.
ExitStatus template_file();

}  // namespace tabmelt::command
