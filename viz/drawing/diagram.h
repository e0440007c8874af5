// One diagram, over time or along a line: a quantity's curves and limits with their names beside
// the line ends, so that no legend can cover a curve.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "viz/drawing/page.h"

namespace tabmelt::drawing {

// The axis that runs to the right, shared by all panels of a column. Time is shown on a logarithmic
// scale where the run lasts far longer than the pulse.
class Abscissa {
 public:
  // Time [s]; first > 0 is needed only when logarithmic.
  Abscissa(double first, double last, bool logarithmic);
  // Linear, or logarithmic if the run lasts longer than eight times `pulse` [s].
  // Then it begins at `onset` [s] at the latest.
  static Abscissa over_run(const std::vector<double>& time, double pulse,
                           double onset = std::numeric_limits<double>::infinity());
  // Distance [mm] from one end of a line to the other.
  static Abscissa along(double length);

  double last() const { return last_; }
  // Share of the axis 0..1 at a time or distance; outside it: below 0 or above 1. And back.
  double share(double value) const;
  double at(double share) const;
  struct Tick {
    double share = 0;
    std::string words;   // empty for a tick without a label
    bool minor = false;  // the label gives way where there is no room
  };
  std::vector<Tick> ticks() const;
  const std::string& title() const { return title_; }

 private:
  double first_, last_;
  bool logarithmic_;
  double unit_;  // of the labels
  std::string title_;
};

// The ticks of an axis so many page units long, without the labels that would touch another; minor
// ones give way.
std::vector<Abscissa::Tick> with_room(std::vector<Abscissa::Tick>, double width);

struct Curve {
  std::string name;
  std::vector<double> values;  // one per entry of Panel::abscissa; gaps where not finite
  LineStyle style;
};

struct LimitLine {
  std::string name;
  double value = 0;
  Colour colour = palette::bad;
};

struct Span {
  double from = 0, to = 0;
};

struct Panel {
  std::string title;             // quantity and unit
  std::vector<double> abscissa;  // [s] or [mm]
  std::vector<Curve> curves{};
  std::vector<LimitLine> limits{};
  bool from_zero = true;          // the value axis starts at zero if nothing is negative
  bool stacked = false;           // curves are layers on top of each other, filled
  double label_room = 150;        // right of the plot, for the names
  std::string note{};             // inside the plot, e.g. why it is empty
  bool with_peaks = false;        // names tell each curve's largest value
  bool decades = false;           // logarithmic value axis; what is not positive is a gap
  std::optional<double> reach{};  // the value axis includes it
  std::vector<Span> shaded{};     // stretches of the abscissa, e.g. while current flows
  std::string shaded_name{};      // of the first that has room for it
};

// Names stand at the right. Where the curves end apart from each other a name stands beside its
// curve's end, else at the height of its peak, with a fine line from there. What a curve has below
// zero is shaded. A spike too narrow to be drawn does not rule the axis: it ends in a break that
// says how far it goes. A limit far above every curve is named at the upper edge, with an arrow,
// instead of flattening the curves.
// `box` is the plot area; its value labels need about 60 to the left. A single curve needs no name.
void draw_panel(Page&, const Panel&, const Abscissa&, const Box& box, bool with_abscissa);

// Ends of an axis and its steps in round numbers: at most `most` intervals.
struct RoundAxis {
  double low = 0, high = 1, step = 1;
};
RoundAxis round_axis(double low, double high, int most);
// A number at an axis with this step.
std::string tick_words(double value, double step);
inline constexpr TextStyle left_of_axis{
    .size = 14, .colour = palette::quiet_ink, .align = Align::right};
inline constexpr TextStyle below_axis{
    .size = 14, .colour = palette::quiet_ink, .align = Align::centre, .level = Level::top};

}  // namespace tabmelt::drawing
