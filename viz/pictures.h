// Pictures of one stored run as PNG files of 1600 x 1000 pixels, or smaller or larger in the same
// proportion: letters and lines grow with the picture.
// The only folder that knows VTK. Needs a display for OpenGL (Xvfb will do). Every function throws
// PictureError, which says why, if there is no display, the file cannot be written, or the run
// holds nothing for the picture.
#pragma once

#include <array>
#include <filesystem>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "solver/result/stored_run.h"

namespace tabmelt {

class PictureError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// True if a display can be opened.
bool display_available();

// Widths in pixels: letters cannot be read below the smallest; the largest serves print.
inline constexpr int smallest_picture_width = 640, usual_picture_width = 1600,
                     largest_picture_width = 4800;

// Section through both halves at the frame nearest to `time` [s]: temperature as filled bands in
// degrees Celsius, melting isotherm, largest melt extent, parts labelled, scale bar, time stamp,
// the inner wall marked with its peak and limit.
void draw_section(const StoredRun&, double time, const std::filesystem::path& png,
                  int width = usual_picture_width);
// Up to five such sections in a row at telling moments (first heat, peak current, first melt,
// largest nugget, hottest inner wall), with the pulse below them.
void draw_moments(const StoredRun&, const std::filesystem::path& png,
                  int width = usual_picture_width);
// The hottest every place became over the whole run.
void draw_peak_map(const StoredRun&, const std::filesystem::path& png,
                   int width = usual_picture_width);
// Electric potential with lines along which the current flows, at the frame nearest to `time` [s]
// or, unset, to the peak current.
void draw_current(const StoredRun&, std::optional<double> time, const std::filesystem::path& png,
                  int width = usual_picture_width);
// Current, voltages, resistances, force; temperatures with their limits; nugget.
void draw_curves(const StoredRun&, const std::filesystem::path& png,
                 int width = usual_picture_width);
// Where the energy went, from source to sinks, and the energy in the metal over time.
void draw_energy(const StoredRun&, const std::filesystem::path& png,
                 int width = usual_picture_width);

inline constexpr std::array<std::string_view, 6> picture_names{"section", "moments", "peak",
                                                               "current", "curves",  "energy"};

// Those that show one moment.
inline constexpr std::array<std::string_view, 2> instant_pictures{"section", "current"};

struct PictureChoice {
  std::vector<std::string> only = {};  // of picture_names; empty: all
  // [s] of the pictures of one moment; unset: section at the largest nugget, or else the hottest
  // joint, current at its peak.
  std::optional<double> time = {};
  int width = usual_picture_width;
};

// The usual set, or those chosen, into a folder (made if missing), each as <name>.png. A picture
// for which the run holds nothing is left out of the set, and an error if it was chosen. Returns
// the files written, in the order of picture_names. Throws PictureError also for an unknown name
// or a width out of range, before anything is drawn.
std::vector<std::filesystem::path> draw_all(const StoredRun&, const std::filesystem::path& folder,
                                            const PictureChoice& = {});

}  // namespace tabmelt
