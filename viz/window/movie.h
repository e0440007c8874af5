// The animation of a run as a movie.
#pragma once

#include <filesystem>
#include <optional>

#include "solver/result/stored_run.h"
#include "viz/pictures/fields.h"

namespace tabmelt::window {

// Ogg Theora, twelve moments a second. A folder that is missing is made. Throws PictureError if the
// run holds no frames or the file cannot be written. Needs no display.
void write_movie(const StoredRun&, const std::filesystem::path& ogv,
                 const std::optional<pictures::TemperatureRange>& = {});

}  // namespace tabmelt::window
