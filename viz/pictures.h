// Pictures of one stored run as PNG files of 1600 x 1000 pixels. The only folder that knows VTK.
// Needs a display for OpenGL (Xvfb will do). Every function throws PictureError, which says why,
// if there is no display, the file cannot be written, or the run holds nothing for the picture.
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
// Up to five such sections in a row at telling moments (first heat, peak current, first melt,
// largest nugget, hottest inner wall), with the pulse below them.
void draw_moments(const StoredRun&, const std::filesystem::path& png);
// The hottest every place became over the whole run.
void draw_peak_map(const StoredRun&, const std::filesystem::path& png);
// Electric potential at the peak current with lines along which the current flows.
void draw_current(const StoredRun&, const std::filesystem::path& png);
// Current, voltages, resistances, force; temperatures with their limits; nugget.
void draw_curves(const StoredRun&, const std::filesystem::path& png);
// Where the energy went, from source to sinks, and the energy in the metal over time.
void draw_energy(const StoredRun&, const std::filesystem::path& png);

// The usual set into a folder (made if missing): section.png, moments.png, peak.png, current.png,
// curves.png, energy.png. A picture for which the run holds nothing is left out. Returns the files
// written.
std::vector<std::filesystem::path> draw_all(const StoredRun&, const std::filesystem::path& folder);

}  // namespace tabmelt
