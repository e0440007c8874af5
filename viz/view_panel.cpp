#include "viz/view_panel.h"

#include <vtkActor.h>
#include <vtkCamera.h>
#include <vtkCellArray.h>
#include <vtkContourFilter.h>
#include <vtkLookupTable.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper.h>
#include <vtkProperty.h>
#include <vtkRenderer.h>

#include <algorithm>
#include <cmath>

#include "viz/section_panel.h"
#include "viz/stored_values.h"

namespace tabmelt {

namespace {

vtkSmartPointer<vtkActor> line_actor(vtkPolyDataMapper* mapper, const Colour& colour,
                                     double width) {
  auto actor = vtkSmartPointer<vtkActor>::New();
  actor->SetMapper(mapper);
  actor->GetProperty()->SetColor(colour.red, colour.green, colour.blue);
  actor->GetProperty()->SetLineWidth(static_cast<float>(width));
  actor->GetProperty()->SetLighting(false);
  return actor;
}

vtkSmartPointer<vtkPolyData> lines_of(const std::vector<Polyline>& lines) {
  vtkNew<vtkPoints> points;
  vtkNew<vtkCellArray> cells;
  for (const Polyline& line : lines) {
    cells->InsertNextCell(static_cast<int>(line.size()));
    for (const Point& p : line) {
      cells->InsertCellPoint(points->InsertNextPoint(p.x, p.y, 0));
    }
  }
  auto mesh = vtkSmartPointer<vtkPolyData>::New();
  mesh->SetPoints(points);
  mesh->SetLines(cells);
  return mesh;
}

}  // namespace

ViewPanel::ViewPanel(const StoredRun& run) : run_(run), live_(run), flat_(run, live_) {
  renderer_->SetBackground(1, 1, 1);
  // Lines lie in the plane of the faces and must win.
  vtkMapper::SetResolveCoincidentTopologyToPolygonOffset();
  const auto coloured = [&](vtkPolyData* mesh) {
    auto mapper = vtkSmartPointer<vtkPolyDataMapper>::New();
    mapper->SetInputData(mesh);
    mapper->SetLookupTable(colours_);
    mapper->UseLookupTableScalarRangeOn();
    mapper->InterpolateScalarsBeforeMappingOn();
    return mapper;
  };
  const auto face = coloured(live_.section());
  vtkNew<vtkPolyDataMapper> outlines, isotherm;
  const Window whole{run.r_edges.back(), run.z_edges.front(), run.z_edges.back()};
  outlines->SetInputData(lines_of(part_outlines(run, whole)));
  isotherm_->SetInputData(live_.section());
  isotherm_->SetInputArrayToProcess(0, 0, 0, vtkDataObject::FIELD_ASSOCIATION_POINTS, "value");
  isotherm->SetInputConnection(isotherm_->GetOutputPort());
  isotherm->ScalarVisibilityOff();
  for (std::size_t half = 0; half < 2; ++half) {
    faces_[half] = vtkSmartPointer<vtkActor>::New();
    faces_[half]->SetMapper(face);
    faces_[half]->GetProperty()->SetLighting(false);
    isotherms_[half] = line_actor(isotherm, palette::black, 2.4);
    halves_[half] = {faces_[half], line_actor(outlines, {0.93, 0.93, 0.91}, 1.4), isotherms_[half]};
    for (const auto& actor : halves_[half]) {
      renderer_->AddActor(actor);
    }
  }
  shell_ = vtkSmartPointer<vtkActor>::New();
  shell_->SetMapper(coloured(live_.shell()));
  shell_->GetProperty()->SetAmbient(0.45);
  shell_->GetProperty()->SetDiffuse(0.6);
  renderer_->AddActor(shell_);
  painting_->SetColorModeToDirectScalars();
  painting_->SetInputData(flat_.image());
  before_rendering_->SetClientData(this);
  before_rendering_->SetCallback([](vtkObject*, unsigned long, void* panel, void*) {
    static_cast<ViewPanel*>(panel)->paint();
  });
  renderer_->AddObserver(vtkCommand::StartEvent, before_rendering_);
}

ViewPanel::~ViewPanel() { renderer_->RemoveObserver(before_rendering_); }

void ViewPanel::paint() {
  if (!is_flat_) {
    return;
  }
  const int* const size = renderer_->GetSize();
  vtkCamera* const camera = renderer_->GetActiveCamera();
  const double* const middle = camera->GetFocalPoint();
  const Sight sight{middle[0], middle[1], 2 * camera->GetParallelScale() / std::max(1, size[1]),
                    size[0],   size[1],   mirror_};
  if (painted_ != sight) {
    flat_.paint(sight, bands_);
    painted_ = sight;
  }
}

const std::vector<float>& ViewPanel::values(std::size_t frame, Field field) {
  const auto known = frames_.find({frame, field});
  if (known != frames_.end()) {
    return known->second;
  }
  return frames_[{frame, field}] = cell_values(frame_of(run_, frame), field);
}

const std::vector<float>& ViewPanel::history(std::size_t cell, Field field) {
  const auto known = histories_.find({cell, field});
  if (known != histories_.end()) {
    return known->second;
  }
  std::vector<float> course;
  if (run_.history) {
    course = shown_values(field, run_.history(stored_field(field), cell));
  } else {
    for (std::size_t frame = 0; frame < run_.frame_times.size(); ++frame) {
      if (const auto& all = values(frame, field); !all.empty()) {
        course.push_back(all[cell]);
      }
    }
  }
  return histories_[{cell, field}] = std::move(course);
}

float ViewPanel::largest(std::size_t frame, Field field) {
  const std::vector<float>& all = values(frame, field);
  float largest = 0;
  for (std::size_t cell = 0; cell < all.size(); ++cell) {
    if (run_.region[cell] != region::empty) {
      largest = std::max(largest, all[cell]);
    }
  }
  return largest;
}

void ViewPanel::show(std::size_t frame, const ViewState& state, const Scale& scale) {
  const auto bands = static_cast<vtkIdType>(scale.colours.size());
  colours_->SetNumberOfTableValues(bands);
  colours_->SetTableRange(0, static_cast<double>(bands));
  for (vtkIdType k = 0; k < bands; ++k) {
    const Colour& colour = scale.colours[static_cast<std::size_t>(k)];
    colours_->SetTableValue(k, colour.red, colour.green, colour.blue, 1);
  }
  bands_ = scale.colours;
  live_.show(values(frame, state.field), scale);
  painted_.reset();
  is_flat_ = !state.solid;
  mirror_ = state.mirror;
  renderer_->SetBackgroundTexture(is_flat_ ? painting_.Get() : nullptr);
  renderer_->SetTexturedBackground(is_flat_);
  isotherm_->SetValue(0, state.level);
  const bool line = state.isotherm && state.field == Field::temperature;
  const bool second = state.solid || state.mirror;
  for (const auto& actor : halves_[1]) {
    actor->SetVisibility(second);
    actor->SetScale(state.solid ? 1 : -1, 1, 1);
    actor->SetOrientation(0, state.solid ? -90 : 0, 0);
  }
  for (const auto& face : faces_) {
    face->SetVisibility(state.solid);
  }
  isotherms_[0]->SetVisibility(line);
  isotherms_[1]->SetVisibility(line && second);
  shell_->SetVisibility(state.solid);
}

void ViewPanel::look(const ViewState& state, double width_to_height) {
  Window shown{run_.r_edges.back(), run_.z_edges.front(), run_.z_edges.back()};
  if (state.joint) {
    shown = window_around_spot(run_, width_to_height);
  }
  const double middle = 0.5 * (shown.z_min + shown.z_max) * millimetres;
  const double height = 0.5 * (shown.z_max - shown.z_min) * millimetres;
  const double radius = shown.r_max * millimetres;
  vtkCamera* const camera = renderer_->GetActiveCamera();
  camera->ParallelProjectionOn();
  const bool half = !state.mirror && !state.solid;
  const double centre = half ? 0.5 * radius : 0;
  const double wide = (half ? 0.5 : 1.0) * radius;
  camera->SetFocalPoint(centre, middle, 0);
  if (state.solid) {
    camera->SetPosition(10, middle + 7, 14);
  } else {
    camera->SetPosition(centre, middle, 20);
  }
  camera->SetViewUp(0, 1, 0);
  camera->SetParallelScale(std::max(height, wide / width_to_height) * (state.solid ? 1.15 : 1));
  renderer_->ResetCameraClippingRange();
}

Point ViewPanel::place_at(Point pixel) const {
  renderer_->SetDisplayPoint(pixel.x, pixel.y, 0);
  renderer_->DisplayToWorld();
  const double* const world = renderer_->GetWorldPoint();
  return {world[0] / world[3], world[1] / world[3]};
}

Point ViewPanel::pixel_of(Point mm) const {
  renderer_->SetWorldPoint(mm.x, mm.y, 0, 1);
  renderer_->WorldToDisplay();
  const double* const at = renderer_->GetDisplayPoint();
  return {at[0], at[1]};
}

}  // namespace tabmelt
