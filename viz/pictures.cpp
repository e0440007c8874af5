#include "viz/pictures.h"

#include <functional>
#include <string>
#include <utility>

#include "viz/display.h"
#include "viz/stored_values.h"

namespace tabmelt {

namespace {

// The moment a single section shows best: the largest nugget, or else the hottest joint.
double best_moment(const StoredRun& run) {
  const auto nugget = peak_of(run, "nugget_diameter");
  if (nugget && nugget->value > 0) {
    return nugget->time;
  }
  for (const char* const name : {"faying_temperature", "peak_temperature", "current"}) {
    if (const auto peak = peak_of(run, name)) {
      return peak->time;
    }
  }
  return run.frame_times.empty() ? 0 : run.frame_times.back();
}

}  // namespace

std::vector<std::filesystem::path> draw_all(const StoredRun& run,
                                            const std::filesystem::path& folder) {
  require_display();
  std::error_code trouble;
  std::filesystem::create_directories(folder, trouble);
  if (trouble) {
    throw PictureError("cannot make the folder " + folder.string() + ": " + trouble.message());
  }
  const bool has_frames = !run.frame_times.empty();
  const bool has_series = series_of(run, "time").size() > 1;
  std::vector<std::filesystem::path> written;
  const auto draw = [&](const std::string& name, auto&& picture) {
    written.push_back(folder / name);
    picture(written.back());
  };
  using Path = std::filesystem::path;
  if (has_frames) {
    draw("section.png", [&](const Path& png) { draw_section(run, best_moment(run), png); });
    draw("moments.png", [&](const Path& png) { draw_moments(run, png); });
    draw("peak.png", [&](const Path& png) { draw_peak_map(run, png); });
  }
  if (has_frames && !frame_of(run, 0).potential.empty()) {
    draw("current.png", [&](const Path& png) { draw_current(run, png); });
  }
  if (has_series) {
    draw("curves.png", [&](const Path& png) { draw_curves(run, png); });
    draw("energy.png", [&](const Path& png) { draw_energy(run, png); });
  }
  if (written.empty()) {
    throw PictureError("the result holds neither frames nor time series to draw");
  }
  return written;
}

}  // namespace tabmelt
