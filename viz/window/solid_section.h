// A run's section turned around the axis, a quarter cut away, in a renderer of its own. The meshes
// stay from moment to moment while their values change.
#pragma once

#include <vtkActor.h>
#include <vtkFloatArray.h>
#include <vtkLookupTable.h>
#include <vtkNew.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper.h>
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>

#include <array>
#include <vector>

#include "viz/pictures/moment_view.h"

namespace tabmelt::window {

using namespace pictures;

class SolidSection {
 public:
  explicit SolidSection(ShownRun&);  // which must outlive this

  vtkRenderer* renderer() const { return renderer_; }
  void show(std::size_t frame, const Shown&, const Scale&);
  // From the usual side.
  void look(const Window&, double width_to_height);

 private:
  void build_face();
  void build_shell();
  vtkSmartPointer<vtkActor> coloured(vtkPolyData*);
  std::array<vtkSmartPointer<vtkActor>, 2> both_faces(vtkPolyDataMapper*, const Colour&,
                                                      double width);

  ShownRun& run_;
  // A cut face, and the free surface of all parts turned three quarters around; z is the depth.
  // Their scalars place values on the scale: k + share within band k.
  vtkNew<vtkPolyData> face_, shell_;
  vtkNew<vtkFloatArray> face_places_, shell_places_;
  std::vector<std::size_t> shell_nodes_;  // node of each shell point
  vtkNew<vtkLookupTable> colours_;
  vtkNew<vtkPolyDataMapper> isotherm_, melt_;
  std::array<vtkSmartPointer<vtkActor>, 2> isotherms_, melts_;
  vtkNew<vtkRenderer> renderer_;
};

}  // namespace tabmelt::window
