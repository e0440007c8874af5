// A run's section painted straight into an image, band by band: a new moment costs one pass over
// the pixels however many cells the mesh has, which software OpenGL needs to keep up.
#pragma once

#include <vtkImageData.h>
#include <vtkNew.h>

#include <array>
#include <cstdint>
#include <vector>

#include "viz/live_section.h"

namespace tabmelt {

// What a panel looks at, straight from the front.
struct Sight {
  double x = 0, y = 0;  // [mm] in the middle of the image
  double mm_per_pixel = 1;
  int width = 0, height = 0;  // [pixels]
  bool mirror = true;         // x < 0 shows the same as x > 0; otherwise nothing
  bool operator==(const Sight&) const = default;
};

class FlatSection {
 public:
  FlatSection(const StoredRun&, const LiveSection&);

  // Paints what the section holds now; outside the parts it is white.
  void paint(const Sight&, const std::vector<Colour>& bands);
  // RGB, origin at the lower left.
  vtkImageData* image() const { return image_; }

 private:
  // Which cell a column or row of pixels crosses and where, 0..1 between its edges; -1: none.
  struct Crossing {
    int cell = -1;
    float share = 0;
    double at = 0;  // [m]
  };
  void look(const Sight&);
  void paint_row(std::size_t row, const std::vector<std::array<std::uint8_t, 3>>& paints,
                 std::uint8_t* pixels) const;

  const StoredRun& run_;
  const LiveSection& live_;
  Polyline cone_;
  Sight sight_;
  std::vector<Crossing> columns_, rows_;
  vtkNew<vtkImageData> image_;
};

}  // namespace tabmelt
