#include "io/command/drawing.h"

#include "io/result/result_reader.h"
#ifdef TABMELT_VIEWER
#include "viz/pictures.h"
#endif

namespace tabmelt {

#ifdef TABMELT_VIEWER

std::string reason_not_to_draw() {
  if (display_available()) return {};
  return "no display; xvfb-run -a tabmelt picture RESULT draws them without a screen";
}

std::vector<std::filesystem::path> draw_result(const std::filesystem::path& result_file,
                                               const std::filesystem::path& folder) {
  const std::string reason = reason_not_to_draw();
  if (!reason.empty()) throw DrawingError("cannot draw: " + reason);
  const StoredRun run = read_result_file(result_file);
  try {
    std::filesystem::create_directories(folder);
    return draw_all(run, folder);
  } catch (const PictureError& error) {
    throw DrawingError(error.what());
  } catch (const std::filesystem::filesystem_error& error) {
    throw DrawingError(error.what());
  }
}

#else

std::string reason_not_to_draw() {
  return "this build has no VTK; install libvtk9-dev and configure with -DTABMELT_VIEWER=ON";
}

std::vector<std::filesystem::path> draw_result(const std::filesystem::path&,
                                               const std::filesystem::path&) {
  throw DrawingError("cannot draw: " + reason_not_to_draw());
}

#endif

}  // namespace tabmelt
