// A run as read back from its result file: what pictures and comparisons are made from.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "solver/result/result.h"

namespace tabmelt {

struct StoredRun {
  std::string path;
  std::string program_version;
  std::string title;
  bool complete = false;               // false: the run was cut short; what is there is shown
  std::vector<double> r_edges;         // [m]
  std::vector<double> z_edges;         // [m]
  std::vector<std::uint8_t> region;    // per cell, r fastest
  std::vector<std::string> region_names;  // index: region number
  std::vector<double> frame_times;     // [s]
  std::function<Frame(std::size_t)> frame;  // reads one frame on demand
  std::vector<float> peak_temperature;      // [K] per cell; empty if the run was cut short
  std::vector<float> peak_liquid_fraction;  // [1] per cell; empty likewise
  // Time series by name ("time", "current", "probe_P1", ...), all of one length.
  std::map<std::string, std::vector<double>> series;
  std::map<std::string, double> scalars;       // "nugget_diameter", "ledger_strip", ...
  std::map<std::string, std::string> texts;    // "verdict", "case", "report", ...
};

}  // namespace tabmelt
