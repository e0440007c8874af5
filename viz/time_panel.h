// One diagram over time: a quantity's curves and limits with their names beside the line ends, so
// that no legend can cover a curve.
#pragma once

#include <string>
#include <vector>

#include "viz/page.h"

namespace tabmelt {

// Shared by all panels of a column. Logarithmic where the run lasts far longer than the pulse.
class TimeAxis {
 public:
  // first > 0 is needed only when logarithmic.
  TimeAxis(double first, double last, bool logarithmic);
  // Linear, or logarithmic if the run lasts longer than eight times `pulse` [s].
  static TimeAxis over_run(const std::vector<double>& time, double pulse);

  bool logarithmic() const { return logarithmic_; }
  double first() const { return first_; }
  double last() const { return last_; }
  // Share of the axis 0..1 at a time; outside it: below 0 or above 1.
  double share(double time) const;
  struct Tick {
    double share = 0;
    std::string words;  // empty for a tick without a label
  };
  std::vector<Tick> ticks() const;
  std::string title() const;

 private:
  double first_, last_;
  bool logarithmic_;
  double unit_;  // [s] of the labels
};

struct Curve {
  std::string name;
  std::vector<double> values;  // one per entry of Panel::time; gaps where not finite
  LineStyle style;
};

struct LimitLine {
  std::string name;
  double value = 0;
  Colour colour = palette::bad;
};

struct Panel {
  std::string title;         // quantity and unit
  std::vector<double> time;  // [s]
  std::vector<Curve> curves;
  std::vector<LimitLine> limits;
  bool from_zero = true;    // the value axis starts at zero if nothing is negative
  bool stacked = false;     // curves are layers on top of each other, filled
  double label_room = 150;  // right of the plot, for the names
  std::string note{};       // inside the plot, e.g. why it is empty
  bool with_peaks = false;  // names tell each curve's largest value
};

// `box` is the plot area; its value labels need about 60 to the left. A single curve needs no name.
void draw_panel(Page&, const Panel&, const TimeAxis&, const Box& box, bool with_time_labels);

// Ends of an axis and its steps in round numbers: at most `most` intervals.
struct RoundAxis {
  double low = 0, high = 1, step = 1;
};
RoundAxis round_axis(double low, double high, int most);

}  // namespace tabmelt
