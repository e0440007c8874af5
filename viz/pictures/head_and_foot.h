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

struct PageHead {
  std::string title, sentence;  // of the case, and the answer in one sentence
  std::string picture, detail;  // what is drawn
  std::string origin;           // program and file
  std::string warning = {};     // in red at the foot, e.g. that the study was cut short
};

// Title and sentence at the left, what this picture is at the right; origin and cautions at the
// bottom.
void draw_head_and_foot(Page&, const PageHead&);
// Of one run, with its title and verdict.
void draw_head_and_foot(Page&, const StoredRun&, const std::string& picture,
                        const std::string& detail);

}  // namespace tabmelt::pictures
