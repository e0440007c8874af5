#include "viz/window/window.h"

#include <utility>

#include "viz/window/viewer.h"

namespace tabmelt::window {

void show_window(std::vector<StoredRun> runs) { Viewer(std::move(runs)).run(); }

}  // namespace tabmelt::window
