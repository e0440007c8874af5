// Pictures of what measurements and test welds told. Plain values in, a page out.
#pragma once

#include <string>
#include <vector>

#include "viz/pictures/studies/study_pages.h"

namespace tabmelt::pictures {

struct FitRow {
  std::string words, value, error;  // key, "8.1 mohm", "0.1 mohm"
  bool doubtful = false;            // cannot be told, or at the end of its range
};

// One channel of one record.
struct FitPanel {
  std::string title;                    // "pulse.csv: current [A]"
  std::vector<double> time;             // [s] of the record
  std::vector<double> recorded, model;  // in the unit of the title
  std::vector<double> residual;         // [1] over the noise; not a number where left out
};

struct FitPicture {
  PageHead head;
  std::vector<FitPanel> panels;  // at most four are drawn
  std::vector<FitRow> rows;
  std::vector<std::string> remarks;
  bool matches = true;
};

drawing::Page fit_page(const FitPicture&);

// One unknown before and after.
struct LearnPanel {
  std::string words, middle;          // key, "29 N"
  std::string from, to;               // ends of the axis, with units
  std::vector<double> before, after;  // density over equal parts of the axis
};

struct LearnChance {
  std::string words;  // setting
  double before = 0, before_low = 0, before_high = 1;
  double after = 0, after_low = 0, after_high = 1;  // [1]
};

struct LearnPicture {
  PageHead head;
  std::vector<LearnPanel> panels;    // at most eight are drawn
  std::vector<LearnChance> chances;  // likewise
  std::string next;                  // setting and what it tells
  std::vector<std::string> remarks;
};

drawing::Page learn_page(const LearnPicture&);

}  // namespace tabmelt::pictures
