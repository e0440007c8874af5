// Pictures of one stored run as PNG files. The only folder that knows VTK. Needs a display for
// OpenGL (Xvfb will do); throws PictureError that says so when there is none.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <vector>

#include "solver/result/stored_run.h"

namespace tabmelt {

class PictureError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// True if a display can be opened.
bool display_available();

// Section through both halves at the frame nearest to `time` [s]: temperature as filled bands in
// degrees Celsius, melting isotherm, largest melt extent, parts labelled, scale bar, time stamp,
// the inner wall marked with its peak and limit.
void draw_section(const StoredRun&, double time, const std::filesystem::path& png);
// Current, voltages, resistances, force; temperatures; nugget; energy over time.
void draw_curves(const StoredRun&, const std::filesystem::path& png);

// The usual set into a folder; returns the files written.
std::vector<std::filesystem::path> draw_all(const StoredRun&, const std::filesystem::path& folder);

}  // namespace tabmelt
