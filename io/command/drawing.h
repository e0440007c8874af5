// Pictures, movies and the window. Hides whether VTK was compiled in.
#pragma once

#include <filesystem>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "viz/pictures/pictures.h"

namespace tabmelt::command {

class DrawingError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// No picture can be drawn here: there is no font.
class NoFontError : public DrawingError {
 public:
  using DrawingError::DrawingError;
};

// Draws the chosen pictures from a result file into a folder; returns the files written. Throws
// ResultFileError, NoFontError or DrawingError.
std::vector<std::filesystem::path> draw_result(const std::filesystem::path& result_file,
                                               const std::filesystem::path& folder,
                                               const pictures::PictureChoice& = {});

// animation.ogv, or numbered pictures in the folder frames/, in a folder. Returns and throws as
// draw_result().
enum class Animation { movie, frames };
std::vector<std::filesystem::path> animate_result(
    const std::filesystem::path& result_file, const std::filesystem::path& folder, Animation,
    const std::optional<pictures::TemperatureRange>& = {});

// There is no display, or no VTK, to show a window with.
class NoWindowError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// A window on one or two results; returns when it is closed. Throws ResultFileError, DrawingError
// or NoWindowError.
void show_results(const std::vector<std::filesystem::path>& result_files,
                  const std::optional<pictures::TemperatureRange>& = {});

// Puts pictures into report.html (or report.part.html) of a result's folder, if it is there. Throws
// DrawingError if it cannot be written.
void put_into_report(const std::filesystem::path& folder,
                     const std::vector<std::filesystem::path>& files);

}  // namespace tabmelt::command
