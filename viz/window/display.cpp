#include "viz/window/display.h"

#include <X11/Xlib.h>

#include <cstdlib>
#include <mutex>
#include <string>

namespace tabmelt::window {

namespace {

bool names_a_display(const char* name) { return name != nullptr && *name != '\0'; }

bool speaks_glx(Display* display) {
  int opcode = 0, event = 0, error = 0;
  return XQueryExtension(display, "GLX", &opcode, &event, &error) != 0;
}

// A virtual server resets itself when its last client leaves and turns down whoever calls in that
// moment: VTK, right after this check. So one connection stays open for as long as the process
// lives; it is never closed, because closing one to a server that has died ends the process.
struct HeldConnection {
  std::string name;
  Display* display = nullptr;
};

}  // namespace

bool display_available() {
  static HeldConnection held;
  static std::mutex guard;
  const std::lock_guard lock(guard);
  const char* const name = std::getenv("DISPLAY");
  if (!names_a_display(name)) {
    return false;
  }
  Display* const display = XOpenDisplay(name);
  if (display == nullptr) {
    return false;
  }
  const bool usable = speaks_glx(display);
  if (usable && held.name != name) {
    held = {name, display};
  } else {
    XCloseDisplay(display);
  }
  return usable;
}

}  // namespace tabmelt::window
