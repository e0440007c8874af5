#include "io/command/drawing.h"

#include "io/report/html_report.h"
#include "io/store/result_reader.h"
#include "viz/pictures/animation.h"
#ifdef TABMELT_VIEWER
#include "viz/window/display.h"
#include "viz/window/movie.h"
#include "viz/window/window.h"
#endif

namespace tabmelt::command {

using namespace report;

namespace {

constexpr const char* no_vtk =
    "this build has no VTK; install libvtk9-dev and configure with -DTABMELT_VIEWER=ON";

void write_movie([[maybe_unused]] const StoredRun& run, const std::filesystem::path& ogv,
                 [[maybe_unused]] const std::optional<pictures::TemperatureRange>& range) {
#ifdef TABMELT_VIEWER
  window::write_movie(run, ogv, range);
#else
  throw DrawingError("cannot write " + ogv.string() + ": " + no_vtk +
                     ", or take --frames, which needs none");
#endif
}

// Reads a result and draws from it.
template <typename Draw>
auto drawn(const std::filesystem::path& result_file, Draw draw) {
  // Read first: it divides a process off, and the search for fonts starts threads, which do not
  // come along.
  const StoredRun run = read_result_file(result_file);
  if (!drawing::font_available())
    throw NoFontError(
        "no font is installed; fonts-dejavu-core has the one that pictures are made for");
  try {
    return draw(run);
  } catch (const drawing::PictureError& error) {
    throw DrawingError(error.what());
  }
}

}  // namespace

std::vector<std::filesystem::path> draw_result(const std::filesystem::path& result_file,
                                               const std::filesystem::path& folder,
                                               const pictures::PictureChoice& choice) {
  return drawn(result_file, [&](const StoredRun& run) { return draw_all(run, folder, choice); });
}

std::vector<std::filesystem::path> animate_result(
    const std::filesystem::path& result_file, const std::filesystem::path& folder, Animation kind,
    const std::optional<pictures::TemperatureRange>& range) {
  return drawn(result_file, [&](const StoredRun& run) {
    if (kind == Animation::frames) return pictures::write_moments(run, folder / "frames", range);
    write_movie(run, folder / "animation.ogv", range);
    return std::vector<std::filesystem::path>{folder / "animation.ogv"};
  });
}

void show_results(const std::vector<std::filesystem::path>& result_files,
                  [[maybe_unused]] const std::optional<pictures::TemperatureRange>& range) {
  // What is no result is told first, with or without a window.
  std::vector<StoredRun> runs;
  for (const auto& file : result_files) runs.push_back(read_result_file(file));
#ifdef TABMELT_VIEWER
  if (!window::display_available()) {
    throw NoWindowError(
        "no display to open a window on; tabmelt picture RESULT draws pictures without one");
  }
  try {
    window::show_window(std::move(runs), range);
  } catch (const drawing::PictureError& error) {
    throw DrawingError(error.what());
  }
#else
  throw NoWindowError(std::string("no window: ") + no_vtk);
#endif
}

void put_into_report(const std::filesystem::path& folder,
                     const std::vector<std::filesystem::path>& files) {
  for (const char* const name : {"report.html", "report.part.html"}) {
    const std::filesystem::path page = folder / name;
    const std::string reason = failure_to_put_pictures(page, files);
    if (!reason.empty()) throw DrawingError("cannot write " + page.string() + ": " + reason);
  }
}

}  // namespace tabmelt::command
