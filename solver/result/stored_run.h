// A run as read back from its result file: what pictures and comparisons are made from.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "solver/result/result.h"

namespace tabmelt {

// One of the fields of a frame: &Frame::temperature, ...
using FrameField = std::vector<float> Frame::*;

// What the verdict says of one way to turn out.
struct StoredFinding {
  std::string key;       // "can_puncture"
  std::string words;     // "can puncture"
  std::string quantity;  // what decided, in words
  double value = 0;      // SI
  double limit = 0;      // SI
  std::string unit = {};
  double margin = 0;    // [1] on the good side of the limit; negative: bad
  double time = 0;      // [s]
  double r = 0, z = 0;  // [m]
  bool holds = false;   // it happened
};

struct StoredRun {
  std::string path;
  std::string program_version;
  std::string title;
  bool complete = false;             // false: the run was cut short; what is there is shown
  std::vector<double> r_edges;       // [m]
  std::vector<double> z_edges;       // [m]
  std::vector<std::uint8_t> region;  // per cell, r fastest
  std::vector<Part> parts;           // index: region number
  std::vector<double> frame_times;   // [s]
  // Reads one frame on demand. Throws std::out_of_range beyond frame_times, and what the reader
  // throws if the file has gone or is damaged.
  std::function<Frame(std::size_t)> frame;
  // One field of one cell in every frame, components together, without reading the frames; empty
  // if the run has no quicker way than its frames. Throws like `frame`.
  std::function<std::vector<float>(FrameField, std::size_t cell)> history;
  std::vector<float> peak_temperature;      // [K] per cell; empty if the run was killed
  std::vector<float> peak_liquid_fraction;  // [1] per cell; empty likewise
  // Time series by name ("time", "current", "probe_P1", "layer_disc", ...), all of one length.
  std::map<std::string, std::vector<double>> series;  // empty if the run was killed
  std::map<std::string, double> scalars;              // catalogue: "nugget_diameter", ...
  std::map<std::string, std::string> words;           // what each scalar is, in words
  std::vector<StoredFinding> findings;
  std::map<std::string, std::string> texts;  // "verdict", "case", "full_case", "report", ...
};

}  // namespace tabmelt
