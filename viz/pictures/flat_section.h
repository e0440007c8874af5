// A run's section as an image, band by band: a new moment costs one pass over the pixels however
// many cells the mesh has, which a window needs to keep up.
#pragma once

#include <cstdint>
#include <vector>

#include "viz/pictures/section_mesh.h"

namespace tabmelt::pictures {

// What a panel looks at, straight from the front.
struct Sight {
  Point middle;  // [mm] in the middle of the panel
  double mm_per_unit = 1;
  bool mirror = true;  // x < 0 shows the same as x > 0; otherwise nothing

  Point in_mm(const Box& panel, Point at) const {
    return {middle.x + mm_per_unit * (at.x - panel.centre().x),
            middle.y + mm_per_unit * (at.y - panel.centre().y)};
  }
  Point on_page(const Box& panel, Point mm) const {
    return {panel.centre().x + (mm.x - middle.x) / mm_per_unit,
            panel.centre().y + (mm.y - middle.y) / mm_per_unit};
  }
};

class FlatSection {
 public:
  FlatSection(const StoredRun&, const SectionMesh&);

  // `places` are those of the nodes on a scale (place_on), `bands` its colours. Outside the parts
  // it is white. Sharp at one pixel per page unit.
  void draw(Page&, const Box&, const Sight&, const std::vector<float>& places,
            const std::vector<Colour>& bands) const;

 private:
  // Which cell a column or row of pixels crosses and where, 0..1 between its edges; -1: none.
  struct Crossing {
    int cell = -1;
    float share = 0;
    double at = 0;  // [m]
  };
  static Crossing crossing(const std::vector<double>& edges, double metres);
  std::uint32_t pixel(const Crossing& along, const Crossing& across,
                      const std::vector<float>& places,
                      const std::vector<std::uint32_t>& paints) const;

  const StoredRun& run_;
  const SectionMesh& section_;
  std::vector<std::int32_t> drawn_;  // per cell of the run, that of the mesh; -1: none
  Polyline cone_;
};

}  // namespace tabmelt::pictures
