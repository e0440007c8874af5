// Pictures of one stored run: pages of 1600 x 1000 units, which are pixels at the usual size.
// Letters and lines grow with the picture. Every function throws PictureError, which says why, if
// the run holds nothing for the picture.
#pragma once

#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "solver/result/stored_run.h"
#include "viz/drawing/page.h"
#include "viz/pictures/fields.h"

namespace tabmelt::pictures {

using namespace drawing;

// Section through both halves at the frame nearest to `time` [s]: temperature as filled bands in
// degrees Celsius, what is and ever was molten, what touches, sparks, parts labelled, scale bar,
// time stamp, the limit that binds. A range of temperatures other than the usual one may be chosen
// here and below.
Page section_picture(const StoredRun&, double time, const std::optional<TemperatureRange>& = {});
// Up to five such sections in a row at telling moments (first heat, peak current, first melt,
// largest nugget, hottest inner wall), with the pulse below them.
Page moments_picture(const StoredRun&, const std::optional<TemperatureRange>& = {});
// The hottest every place became over the whole run.
Page peak_picture(const StoredRun&, const std::optional<TemperatureRange>& = {});
// Electric potential with lines along which the current flows, at the frame nearest to `time` [s]
// or, unset, to the peak current.
Page current_picture(const StoredRun&, std::optional<double> time = {});
// Current, voltages, resistances, force; temperatures with their limits; nugget.
Page curves_picture(const StoredRun&);
// Where the energy went, from source to sinks, and the energy in the metal over time.
Page energy_picture(const StoredRun&);

inline constexpr std::array<std::string_view, 6> picture_names{"section", "moments", "peak",
                                                               "current", "curves",  "energy"};
// Those that show one moment.
inline constexpr std::array<std::string_view, 2> instant_pictures{"section", "current"};

// Widths in pixels: letters cannot be read below the smallest; the largest serves print.
inline constexpr int smallest_picture_width = 640, usual_picture_width = 1600,
                     largest_picture_width = 4800;
inline constexpr std::array<std::string_view, 3> picture_formats{"png", "svg", "pdf"};

struct PictureChoice {
  std::vector<std::string> only = {};  // of picture_names; empty: all
  // [s] of the pictures of one moment; unset: section at the largest nugget, or else the hottest
  // joint, current at its peak.
  std::optional<double> time = {};
  std::optional<TemperatureRange> range = {};  // of the colours; unset: the same for every run
  int width = usual_picture_width;
  std::string format = "png";  // of picture_formats
};

// The usual set, or those chosen, into a folder, each as <name>.<format>. A picture for which the
// run holds nothing is left out of the set, and an error if it was chosen. Returns the files
// written, in the order of picture_names. Throws PictureError also for a name, width or format that
// there is not, before anything is drawn.
std::vector<std::filesystem::path> draw_all(const StoredRun&, const std::filesystem::path& folder,
                                            const PictureChoice& = {});

}  // namespace tabmelt::pictures
