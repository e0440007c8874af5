// Head and foot of a page about many runs.
#pragma once

#include "viz/pictures/studies/study_pages.h"

namespace tabmelt::pictures {

using namespace drawing;

inline constexpr int study_width = 1600, study_height = 1000;
inline constexpr double study_margin = 40;

void draw_study_frame(drawing::Page&, const StudyHead&);

}  // namespace tabmelt::pictures
