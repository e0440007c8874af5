// A record of an oscilloscope from a text file in columns. The first line names them with their
// units: `time [ms]` and any of `current [A]`, `tip voltage [V]`, `source voltage [V]`; further
// columns are left alone. A blank cell or "nan" is a value that is missing: the others of its line
// still count.
#pragma once

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "io/case/read_case.h"
#include "solver/inference/trace_fit.h"

namespace tabmelt {

struct MeasuredTrace {
  std::filesystem::path file;
  std::vector<std::pair<inference::Channel, inference::Signal>> channels;
  double from = 0, to = 0;         // [s] first and last time
  std::vector<std::string> notes;  // what was missing, and what was made of it
};

// "current", "tip voltage", "source voltage"; and the unit in which it is told.
std::string words(inference::Channel);
std::string unit_of(inference::Channel);

// Throws InputError: no such file, over 200 MB, no headings or units that fit, times that do not
// rise, text that is no number, fewer than 10 values of a channel.
MeasuredTrace read_trace(const std::filesystem::path& file);

// The record with noise, trigger and samples; adds to the notes. Throws InputError if no pulse
// stands out.
inference::Record recorded(MeasuredTrace&);

}  // namespace tabmelt
