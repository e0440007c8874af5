#include "viz/window/window.h"

#include <utility>

#include "viz/window/viewer.h"

namespace tabmelt::window {

void show_window(std::vector<StoredRun> runs,
                 const std::optional<pictures::TemperatureRange>& range) {
  Viewer(std::move(runs), range).run();
}

}  // namespace tabmelt::window
