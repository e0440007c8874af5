#include "io/command/drawing.h"

#include "io/result/html_report.h"
#include "io/result/result_reader.h"
#ifdef TABMELT_VIEWER
#include "viz/animation.h"
#include "viz/window.h"
#endif

namespace tabmelt {

#ifdef TABMELT_VIEWER

std::string reason_not_to_draw() {
  if (display_available()) return {};
  return "no display; xvfb-run -a tabmelt picture RESULT draws them without a screen";
}

namespace {

// Reads a result and draws from it into a folder, which is made if missing.
template <typename Draw>
std::vector<std::filesystem::path> drawn(const std::filesystem::path& result_file,
                                         const std::filesystem::path& folder, Draw draw) {
  const std::string reason = reason_not_to_draw();
  if (!reason.empty()) throw DrawingError("cannot draw: " + reason);
  const StoredRun run = read_result_file(result_file);
  try {
    if (!folder.empty()) std::filesystem::create_directories(folder);
    return draw(run);
  } catch (const PictureError& error) {
    throw DrawingError(error.what());
  } catch (const std::filesystem::filesystem_error& error) {
    throw DrawingError(error.what());
  }
}

}  // namespace

std::vector<std::filesystem::path> draw_result(const std::filesystem::path& result_file,
                                               const std::filesystem::path& folder,
                                               const PictureChoice& choice) {
  return drawn(result_file, folder,
               [&](const StoredRun& run) { return draw_all(run, folder, choice); });
}

std::vector<std::filesystem::path> animate_result(const std::filesystem::path& result_file,
                                                  const std::filesystem::path& folder,
                                                  Animation kind) {
  return drawn(result_file, folder, [&](const StoredRun& run) {
    if (kind == Animation::frames) return write_moments(run, folder / "frames");
    write_movie(run, folder / "animation.ogv");
    return std::vector<std::filesystem::path>{folder / "animation.ogv"};
  });
}

void show_results(const std::vector<std::filesystem::path>& result_files) {
  std::vector<StoredRun> runs;
  for (const auto& file : result_files) runs.push_back(read_result_file(file));
  if (!display_available()) {
    throw NoWindowError(
        "no display to open a window on; xvfb-run -a tabmelt picture RESULT draws pictures "
        "without a screen");
  }
  try {
    show_window(std::move(runs));
  } catch (const PictureError& error) {
    throw DrawingError(error.what());
  }
}

#else

void show_results(const std::vector<std::filesystem::path>&) {
  throw NoWindowError("no window: " + reason_not_to_draw());
}

std::string reason_not_to_draw() {
  return "this build has no VTK; install libvtk9-dev and configure with -DTABMELT_VIEWER=ON";
}

std::vector<std::filesystem::path> draw_result(const std::filesystem::path&,
                                               const std::filesystem::path&, const PictureChoice&) {
  throw DrawingError("cannot draw: " + reason_not_to_draw());
}

std::vector<std::filesystem::path> animate_result(const std::filesystem::path&,
                                                  const std::filesystem::path&, Animation) {
  throw DrawingError("cannot draw: " + reason_not_to_draw());
}

#endif

void put_into_report(const std::filesystem::path& folder,
                     const std::vector<std::filesystem::path>& pictures) {
  for (const char* const name : {"report.html", "report.part.html"}) {
    const std::filesystem::path page = folder / name;
    const std::string reason = failure_to_put_pictures(page, pictures);
    if (!reason.empty()) throw DrawingError("cannot write " + page.string() + ": " + reason);
  }
}

}  // namespace tabmelt
