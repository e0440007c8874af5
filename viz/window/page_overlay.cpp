#include "viz/window/page_overlay.h"

#include <vtkCellArray.h>
#include <vtkFloatArray.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper2D.h>
#include <vtkTexturedActor2D.h>

namespace tabmelt::window {

PageOverlay::PageOverlay() {
  vtkNew<vtkFloatArray> places;
  places->SetNumberOfComponents(2);
  vtkNew<vtkCellArray> quad;
  quad->InsertNextCell(4);
  corners_->SetNumberOfPoints(4);
  for (const int corner : {0, 1, 2, 3}) {
    places->InsertNextTuple2(corner == 1 || corner == 2, corner < 2);  // rows from above
    quad->InsertCellPoint(corner);
    corners_->SetPoint(corner, 0, 0, 0);
  }
  vtkNew<vtkPolyData> sheet;
  sheet->SetPoints(corners_);
  sheet->SetPolys(quad);
  sheet->GetPointData()->SetTCoords(places);
  vtkNew<vtkPolyDataMapper2D> mapper;
  mapper->SetInputData(sheet);
  texture_->SetInputData(image_);
  texture_->SetColorModeToDirectScalars();
  vtkNew<vtkTexturedActor2D> actor;
  actor->SetMapper(mapper);
  actor->SetTexture(texture_);
  renderer_->InteractiveOff();
  renderer_->AddActor(actor);
}

void PageOverlay::show(const drawing::Page& page) {
  const int width = static_cast<int>(page.width()), height = static_cast<int>(page.height());
  // Memory is kept from moment to moment: to get it anew costs as much as to fill it.
  const int* const before = image_->GetDimensions();
  if (before[0] != width || before[1] != height) {
    image_->SetDimensions(width, height, 1);
    image_->AllocateScalars(VTK_UNSIGNED_CHAR, 4);
  }
  page.paint(static_cast<std::uint8_t*>(image_->GetScalarPointer()), width);
  image_->GetPointData()->GetScalars()->Modified();
  image_->Modified();
  for (const int corner : {0, 1, 2, 3}) {
    corners_->SetPoint(corner, corner == 1 || corner == 2 ? width : 0, corner > 1 ? height : 0, 0);
  }
  corners_->Modified();
}

}  // namespace tabmelt::window
