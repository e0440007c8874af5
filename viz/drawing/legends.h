// What explains a drawing: scale bar, colour scale, table of values.
#pragma once

#include <string>
#include <vector>

#include "viz/drawing/page.h"

namespace tabmelt::drawing {

// Bar of true length with its label below; `page_per_mm` page units are 1 mm.
void draw_scale_bar(Page&, Point left_end, double longest, double page_per_mm);

// A value that a scale points out.
struct ScaleMark {
  std::string words;
  double value = 0;
  Colour colour = palette::ink;
  bool minor = false;  // gives way where there is no room
};

struct Scale {
  std::string title;
  std::vector<double> edges;
  std::vector<Colour> colours;
  std::vector<ScaleMark> marks = {};

  // k + share within band k; at the ends beyond the scale.
  double place(double value) const;
  const Colour& colour_of(double value) const;
};
// Even bands, one at least, between multiples of `step` that hold low and high between them.
Scale even_scale(const std::string& title, double low, double high, double step,
                 std::vector<Colour> (*ramp)(std::size_t bands));
// Numbers at the left of the bar, which take about `scale_numbers`; marks at its right, with their
// names in so much room or, without room, as lines across the bar only.
inline constexpr double scale_numbers = 52;
void draw_upright_scale(Page&, const Scale&, const Box&, double room_for_marks = 0);
// Numbers below the bar; marks above it, named as far as there is room.
void draw_flat_scale(Page&, const Scale&, const Box&);

// Two columns of words: names to the left, values to the right. Returns the height below it.
struct Row {
  std::string name, value;
  Colour colour = palette::ink;
};
double draw_table(Page&, const std::string& title, const std::vector<Row>&, Point top_left,
                  double width);

}  // namespace tabmelt::drawing
