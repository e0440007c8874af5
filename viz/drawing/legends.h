// What explains a drawing: scale bar, colour scale, table of values.
#pragma once

#include <string>
#include <vector>

#include "viz/drawing/page.h"

namespace tabmelt::drawing {

// Bar of true length with its label below; `page_per_mm` page units are 1 mm.
void draw_scale_bar(Page&, Point left_end, double longest, double page_per_mm);

struct Scale {
  std::string title;
  std::vector<double> edges;
  std::vector<Colour> colours;
};
void draw_upright_scale(Page&, const Scale&, const Box&);
void draw_flat_scale(Page&, const Scale&, const Box&);

// Two columns of words: names to the left, values to the right. Returns the height below it.
struct Row {
  std::string name, value;
  Colour colour = palette::ink;
};
double draw_table(Page&, const std::string& title, const std::vector<Row>&, Point top_left,
                  double width);

}  // namespace tabmelt::drawing
