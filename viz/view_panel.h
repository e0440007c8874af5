// One run in the window: its section as 2-D halves or turned to a solid, in a renderer of its own.
#pragma once

#include <vtkActor.h>
#include <vtkCallbackCommand.h>
#include <vtkContourFilter.h>
#include <vtkLookupTable.h>
#include <vtkNew.h>
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>
#include <vtkTexture.h>

#include <map>
#include <optional>
#include <vector>

#include "viz/flat_section.h"
#include "viz/live_section.h"
#include "viz/outlines.h"
#include "viz/view_controls.h"

namespace tabmelt {

class ViewPanel {
 public:
  explicit ViewPanel(const StoredRun&);
  ~ViewPanel();
  ViewPanel(const ViewPanel&) = delete;
  ViewPanel& operator=(const ViewPanel&) = delete;

  const StoredRun& run() const { return run_; }
  vtkRenderer* renderer() const { return renderer_; }
  // Values of a stored moment, read once and kept.
  const std::vector<float>& values(std::size_t frame, Field);
  // Values of one cell in every stored moment, likewise. Empty if the run lacks the field.
  const std::vector<float>& history(std::size_t cell, Field);
  // Hottest place of a frame, or largest value of another field, within the parts.
  float largest(std::size_t frame, Field);

  void show(std::size_t frame, const ViewState&, const Scale&);
  void look(const ViewState&, double width_to_height);
  // (x, z) [mm] under a pixel of the window while the view is flat.
  Point place_at(Point pixel) const;
  // Pixel of the window at which a place [mm] of the right half is drawn in the flat view.
  Point pixel_of(Point mm) const;

 private:
  void paint();  // before each rendering, if the camera moved or time went on

  const StoredRun& run_;
  LiveSection live_;
  FlatSection flat_;
  vtkNew<vtkTexture> painting_;
  std::vector<Colour> bands_;
  std::optional<Sight> painted_;  // empty: what is painted is out of date
  bool is_flat_ = true, mirror_ = true;
  std::map<std::pair<std::size_t, Field>, std::vector<float>> frames_, histories_;
  vtkNew<vtkRenderer> renderer_;
  vtkNew<vtkLookupTable> colours_;
  vtkNew<vtkContourFilter> isotherm_;
  // Faces (for the turned view), isotherms and outlines: [0] as stored, [1] mirrored or turned.
  std::vector<vtkSmartPointer<vtkActor>> halves_[2];
  vtkSmartPointer<vtkActor> faces_[2], isotherms_[2], shell_;
  vtkNew<vtkCallbackCommand> before_rendering_;
};

}  // namespace tabmelt
