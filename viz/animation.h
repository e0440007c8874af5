// The window's picture of a run, moment after moment, as a movie or as numbered pictures.
#pragma once

#include <filesystem>
#include <vector>

#include "solver/result/stored_run.h"

namespace tabmelt {

// Ogg Theora, twelve moments a second. Throws PictureError if there is no display, the run holds
// no frames or the file cannot be written.
void write_movie(const StoredRun&, const std::filesystem::path& ogv);
// moment-0000.png and so on into a folder, which is made if missing; returns the files.
std::vector<std::filesystem::path> write_moments(const StoredRun&,
                                                 const std::filesystem::path& folder);

}  // namespace tabmelt
