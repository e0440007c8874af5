#include "viz/pictures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

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

bool is_listed(const auto& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

void require_sense(const PictureChoice& choice) {
  for (const std::string& name : choice.only) {
    if (!is_listed(picture_names, name)) throw PictureError("there is no picture \"" + name + "\"");
  }
  if (choice.width < smallest_picture_width || choice.width > largest_picture_width) {
    throw PictureError(fmt::format("a picture is {} to {} pixels wide, not {}",
                                   smallest_picture_width, largest_picture_width, choice.width));
  }
}

}  // namespace

std::vector<std::filesystem::path> draw_all(const StoredRun& run,
                                            const std::filesystem::path& folder,
                                            const PictureChoice& choice) {
  require_sense(choice);
  require_display();
  std::error_code trouble;
  std::filesystem::create_directories(folder, trouble);
  if (trouble) {
    throw PictureError("cannot make the folder " + folder.string() + ": " + trouble.message());
  }
  const bool has_frames = !run.frame_times.empty();
  const bool has_series = series_of(run, "time").size() > 1;
  const bool has_potential = has_frames && !frame_of(run, 0).potential.empty();
  using Path = std::filesystem::path;
  struct Picture {
    bool possible;
    std::function<void(const Path&)> draw;
  };
  const std::array<Picture, picture_names.size()> pictures{{
      {has_frames,
       [&](const Path& png) {
         draw_section(run, choice.time.value_or(best_moment(run)), png, choice.width);
       }},
      {has_frames, [&](const Path& png) { draw_moments(run, png, choice.width); }},
      {has_frames, [&](const Path& png) { draw_peak_map(run, png, choice.width); }},
      {has_potential, [&](const Path& png) { draw_current(run, choice.time, png, choice.width); }},
      {has_series, [&](const Path& png) { draw_curves(run, png, choice.width); }},
      {has_series, [&](const Path& png) { draw_energy(run, png, choice.width); }},
  }};
  std::vector<Path> written;
  for (std::size_t n = 0; n < pictures.size(); ++n) {
    const std::string name(picture_names[n]);
    const bool chosen = is_listed(choice.only, name);
    if (!chosen && !choice.only.empty()) continue;
    if (!pictures[n].possible) {
      if (chosen) throw PictureError("the result holds nothing for the picture \"" + name + "\"");
      continue;
    }
    written.push_back(folder / (name + ".png"));
    pictures[n].draw(written.back());
  }
  if (written.empty()) {
    throw PictureError("the result holds neither frames nor time series to draw");
  }
  return written;
}

}  // namespace tabmelt
