#include "viz/window.h"

#include <utility>

#include "viz/viewer.h"

namespace tabmelt {

void show_window(std::vector<StoredRun> runs) { Viewer(std::move(runs)).run(); }

}  // namespace tabmelt
