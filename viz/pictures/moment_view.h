// A moment of one run, or of two side by side, as the animation and the window show it: sections,
// titles, time slider, scale and readings.
#pragma once

#include <map>
#include <memory>
#include <utility>
#include <vector>

#include "viz/pictures/fields.h"
#include "viz/pictures/section_mesh.h"
#include "viz/pictures/section_panel.h"

namespace tabmelt::pictures {

// What is made when first asked for, and kept.
template <typename Map>
const typename Map::mapped_type& kept(Map& known, const typename Map::key_type& key, auto make) {
  const auto found = known.find(key);
  return found != known.end() ? found->second : known.emplace(key, make()).first->second;
}

// Where the isotherm lies at first [degrees Celsius]: where the strip melts, or else nickel does.
double first_isotherm(const StoredRun&);

// What of the runs is shown.
struct Shown {
  std::size_t moment = 0;
  Field field = Field::temperature;
  bool isotherm = false;
  double level = 0;                            // [degrees Celsius] of the isotherm
  std::optional<TemperatureRange> range = {};  // of the colours; unset: the same for every run
};

// Where things are on a page of this size, from 700 x 500 up, with room below for rows of buttons:
// title and verdict, what the moment reads, sections, the current over the slider with its times;
// at the right the scale and, if something is probed, its diagrams.
struct Probed {
  bool place = false, line = false;
};

struct MomentLayout {
  MomentLayout(double width, double height, std::size_t runs, Probed probed = {},
               double buttons = 36);
  static constexpr double margin = 16;
  Box slider;
  Box current;              // on top of the slider
  std::vector<Box> panels;  // one per run
  Box scale;
  double marks_room = 0;  // right of it
  Box curve;              // for what is probed over time; empty without
  Box profile;            // and along a line; empty without one
};

class ShownRun {
 public:
  explicit ShownRun(const StoredRun&);  // which must outlive this
  ShownRun(const ShownRun&) = delete;
  ShownRun& operator=(const ShownRun&) = delete;

  const StoredRun& run() const { return run_; }
  // With the tip as it touches at most.
  const SectionMesh& section() const { return section_; }
  // Surfaces of all parts [mm], likewise.
  const std::vector<Polyline>& outlines() const { return outlines_; }
  std::vector<Polyline> isotherm(std::size_t frame, double celsius);
  // Edge of what is molten [mm], as the pictures show it.
  const std::vector<Polyline>& melt(std::size_t frame);
  // The same at the nodes of the section, kept within what the field can be.
  std::vector<float> at_nodes(std::size_t frame, Field);
  // Values of a stored moment, read once and kept.
  const std::vector<float>& values(std::size_t frame, Field);
  // Values of one cell in every stored moment, likewise. Empty if the run lacks the field.
  const std::vector<float>& history(std::size_t cell, Field);
  // The largest value of a field at the moments where it peaks.
  double largest(Field);
  void draw_section(Page&, const Sight&, std::size_t frame, const Shown&, const Scale&);

 private:
  const StoredRun& run_;
  Section section_, moving_;  // the tip of the second follows what touches
  std::vector<Polyline> outlines_;
  std::map<std::pair<std::size_t, Field>, std::vector<float>> frames_, histories_;
  std::map<std::size_t, std::vector<Polyline>> melts_;
};

using ShownRuns = std::vector<std::unique_ptr<ShownRun>>;

struct View {
  const MomentLayout& layout;
  const Shown& shown;
  const Scale& scale;
  const std::vector<double>& times;  // [s] of all runs, in order
  const ShownRuns& runs;
  const Sight& first_sight;

  double time() const { return times[shown.moment]; }
  // Number of the run's frame that is shown.
  std::size_t frame(std::size_t run) const;
  // The same sight in each panel.
  Sight sight(std::size_t run) const;
};

std::vector<double> all_times(const std::vector<StoredRun>&);
// The scale of all moments of all the runs, with the marks of the first.
Scale common_scale(const ShownRuns&, const Shown&);

void draw_sections(Page&, const View&);
void draw_around_sections(Page&, const View&);
// Of the parts, inside the sections.
void draw_names(Page&, const View&);

}  // namespace tabmelt::pictures
