// An interactive window on one or two stored runs. What can be done with keys and buttons is listed
// in viz/window/controls.h and, in the window, under `?`.
#pragma once

#include <optional>
#include <vector>

#include "solver/result/stored_run.h"
#include "viz/pictures/fields.h"

namespace tabmelt::window {

// Returns when the window is closed. Throws PictureError if there is no display or a run holds no
// frames.
void show_window(std::vector<StoredRun>, const std::optional<pictures::TemperatureRange>& = {});

}  // namespace tabmelt::window
