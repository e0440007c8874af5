// Whether a window can be opened here at all. The Debian build of VTK draws through X only and
// aborts the process when no X server answers, so this is asked before any VTK window exists.
#pragma once

namespace tabmelt::window {

// True if the X server that DISPLAY names answers and has OpenGL (GLX).
bool display_available();

}  // namespace tabmelt::window
