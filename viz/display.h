// Whether pictures can be drawn here at all. The Debian build of VTK draws through X only and
// aborts the process when no X server answers, so this is asked before any VTK window exists.
#pragma once

namespace tabmelt {

// Throws PictureError that says what is missing and what to do about it.
void require_display();

}  // namespace tabmelt
