// What is probed in the window: the place or the line on the sections, its curve over time and its
// profile along the line.
#pragma once

#include "viz/view_words.h"

namespace tabmelt {

// What stays while time passes, and what changes with it.
void draw_lasting_probe(Page&, const View&);
void draw_passing_probe(Page&, const View&);

}  // namespace tabmelt
