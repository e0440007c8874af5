// How fast the window opens and moves through time, driven by the events of a mouse on its slider.
//
//   window_bench [RESULT.vtkhdf] [--passes N]
//
// Without a result it draws a made-up run of about 30 000 cells (as many as 200 x 150). Needs a
// display; under Xvfb it measures OpenGL in software. Prints the load of the machine beside every
// figure, because software OpenGL shares the cores with everything else.
#include <vtkCommand.h>
#include <vtkRenderWindow.h>
#include <vtkRenderWindowInteractor.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <filesystem>
#include <functional>
#include <string>

#include "io/store/result_reader.h"
#include "tests/support/synthetic_run.h"
#include "viz/window/viewer.h"

namespace {

using tabmelt::drawing::Point;
using tabmelt::window::Action;
using tabmelt::window::Viewer;
using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

double load() {
  double one_minute = 0;
  return getloadavg(&one_minute, 1) == 1 ? one_minute : std::nan("");
}

void send(Viewer& viewer, Point at, unsigned long event) {
  viewer.interactor()->SetEventInformation(static_cast<int>(std::lround(at.x)),
                                           static_cast<int>(std::lround(at.y)));
  viewer.interactor()->InvokeEvent(event);
}

// Drags the slider over all moments and back; prints moments per second.
void scrub(Viewer& viewer, const std::string& name, int passes) {
  const tabmelt::drawing::Box slider = viewer.layout().slider;
  const double y = slider.centre().y;
  const auto last = static_cast<double>(viewer.times().size() - 1);
  const auto place = [&](double moment) { return slider.x + slider.width * moment / last; };
  send(viewer, {place(0), y}, vtkCommand::LeftButtonPressEvent);
  const auto start = Clock::now();
  const std::clock_t processor = std::clock();
  int drawn = 0;
  for (int pass = 0; pass < passes; ++pass) {
    for (std::size_t n = 0; n < viewer.times().size(); ++n) {
      const auto moment = static_cast<double>(n);
      send(viewer, {place(pass % 2 == 0 ? moment : last - moment), y}, vtkCommand::MouseMoveEvent);
      ++drawn;
    }
  }
  const double seconds = seconds_since(start);
  const double busy = static_cast<double>(std::clock() - processor) / CLOCKS_PER_SEC;
  send(viewer, {place(0), y}, vtkCommand::LeftButtonReleaseEvent);
  std::printf("%-34s %7.1f moments/s %8.1f ms processor time each   load %.1f\n", name.c_str(),
              drawn / seconds, 1e3 * busy / drawn, load());
}

}  // namespace

int main(int count, char** words) try {
  std::string file;
  int passes = 2;
  for (int n = 1; n < count; ++n) {
    const std::string word = words[n];
    if (word == "--passes" && n + 1 < count) {
      passes = std::max(1, std::atoi(words[++n]));
    } else {
      file = word;
    }
  }
  const tabmelt::StoredRun run =
      file.empty() ? tabmelt::testing::synthetic_run({.frames = 100, .fineness = 2.9})
                   : tabmelt::read_result_file(file);
  const auto start = Clock::now();
  Viewer viewer({run});
  std::printf("%zu x %zu = %zu cells, %zu moments\n", run.r_edges.size() - 1,
              run.z_edges.size() - 1, run.region.size(), viewer.times().size());
  std::printf("%-34s %7.2f s %55.1f\n", "open", seconds_since(start), load());
  scrub(viewer, "first pass, frames being read", 1);
  scrub(viewer, "temperature, isotherm", passes);
  const Point probe = viewer.sight(0).at_mm(0.1, -0.1);
  const auto clicked = Clock::now();
  send(viewer, probe, vtkCommand::LeftButtonPressEvent);
  send(viewer, probe, vtkCommand::LeftButtonReleaseEvent);
  std::printf("%-34s %7.3f s\n", "click on a place", seconds_since(clicked));
  scrub(viewer, "temperature, place probed", passes);
  viewer.act(Action::current);
  scrub(viewer, "current density", passes);
  viewer.act(Action::temperature);
  viewer.act(Action::solid);
  scrub(viewer, "turned to 3-D", passes);
  return 0;
} catch (const std::exception& error) {
  std::fprintf(stderr, "window_bench: %s\n", error.what());
  return 1;
}
