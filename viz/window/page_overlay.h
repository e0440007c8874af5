// A page over everything that a VTK window shows.
#pragma once

#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPoints.h>
#include <vtkRenderer.h>
#include <vtkTexture.h>

#include "viz/drawing/page.h"

namespace tabmelt::window {

class PageOverlay {
 public:
  PageOverlay();
  vtkRenderer* renderer() const { return renderer_; }
  // One pixel of the window is one page unit; what the page leaves clear shows what lies below.
  void show(const drawing::Page&);

 private:
  vtkNew<vtkImageData> image_;
  vtkNew<vtkTexture> texture_;
  vtkNew<vtkPoints> corners_;
  vtkNew<vtkRenderer> renderer_;
};

}  // namespace tabmelt::window
