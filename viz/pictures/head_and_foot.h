// What surrounds the drawings on every page.
#pragma once

#include <string>

#include "solver/result/stored_run.h"
#include "viz/drawing/page.h"

namespace tabmelt::pictures {

using namespace drawing;

inline constexpr int page_width = 1600, page_height = 1000;
inline constexpr double page_margin = 40;
// Drawings stay between these heights; above is the head, below the foot.
inline constexpr double body_bottom = 52, body_top = 878;

// Title and verdict of the run at the left, what this picture is at the right; program, file and
// cautions at the bottom.
void draw_head_and_foot(Page&, const StoredRun&, const std::string& picture,
                        const std::string& detail);

}  // namespace tabmelt::pictures
