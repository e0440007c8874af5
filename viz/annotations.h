// What surrounds the drawings on every page: head, foot, legends, scale bar, colour scale; and the
// placing of labels so that they do not overlap.
#pragma once

#include <string>
#include <vector>

#include "solver/result/stored_run.h"
#include "viz/page.h"

namespace tabmelt {

inline constexpr int page_width = 1600, page_height = 1000;
inline constexpr double page_margin = 40;
// Drawings stay between these heights; above is the head, below the foot.
inline constexpr double body_bottom = 52, body_top = 878;

// Title and verdict of the run at the left, what this picture is at the right; program, file and
// cautions at the bottom.
void draw_head_and_foot(Page&, const StoredRun&, const std::string& picture,
                        const std::string& detail);

// Positions at least `gap` apart inside low..high, as near to the wanted ones as possible; in the
// order given. With too little room the gap shrinks.
std::vector<double> spread(const std::vector<double>& wanted, double gap, double low, double high);

// Words broken into lines that fit; the last of at most `most` lines ends in an ellipsis if cut.
std::vector<std::string> wrapped(const std::string&, const TextStyle&, double width,
                                 std::size_t most);

// Words in the largest type, from that of the style down to `smallest`, in which they fill no more
// than the height. Cut with an ellipsis only if even the smallest is too large.
struct FittedText {
  std::vector<std::string> lines;
  TextStyle style;
  double pitch = 0;  // from one line to the next
};
FittedText fitted(const std::string&, TextStyle, double width, double height, double smallest);

// 1, 2 or 5 times a power of ten, at most `limit`.
double round_length(double limit);

// "0.35 ms", "12 ms", "1.5 s": three figures, no trailing zeros.
std::string time_words(double seconds);
// A number with at most three significant figures and without trailing zeros.
std::string short_number(double);

// Bar of true length with its label above; `page_per_mm` page units are 1 mm.
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

}  // namespace tabmelt
