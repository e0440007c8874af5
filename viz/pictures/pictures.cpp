#include "viz/pictures/pictures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

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
  if (!is_listed(picture_formats, choice.format)) {
    throw PictureError("there is no format \"" + choice.format + "\"");
  }
}

}  // namespace

std::vector<std::filesystem::path> draw_all(const StoredRun& run,
                                            const std::filesystem::path& folder,
                                            const PictureChoice& choice) {
  require_sense(choice);
  const bool has_frames = !run.frame_times.empty();
  const bool has_series = series_of(run, "time").size() > 1;
  const bool has_potential = has_frames && !frame_of(run, 0).potential.empty();
  struct Picture {
    bool possible;
    std::function<Page()> page;
  };
  const std::array<Picture, picture_names.size()> pictures{{
      {has_frames,
       [&] { return section_picture(run, choice.time.value_or(best_moment(run)), choice.range); }},
      {has_frames, [&] { return moments_picture(run, choice.range); }},
      {has_frames, [&] { return peak_picture(run, choice.range); }},
      {has_potential, [&] { return current_picture(run, choice.time); }},
      {has_series, [&] { return curves_picture(run); }},
      {has_series, [&] { return energy_picture(run); }},
  }};
  std::vector<std::filesystem::path> written;
  for (std::size_t n = 0; n < pictures.size(); ++n) {
    const std::string name(picture_names[n]);
    const bool chosen = is_listed(choice.only, name);
    if (!chosen && !choice.only.empty()) continue;
    if (!pictures[n].possible) {
      if (chosen) throw PictureError("the result holds nothing for the picture \"" + name + "\"");
      continue;
    }
    written.push_back(folder / (name + "." + choice.format));
    pictures[n].page().save(written.back(), choice.width);
  }
  if (written.empty()) {
    throw PictureError("the result holds neither frames nor time series to draw");
  }
  return written;
}

}  // namespace tabmelt::pictures
