#include "viz/structured_mesh.h"

#include <vtkBandedPolyDataContourFilter.h>
#include <vtkCellData.h>
#include <vtkCellDataToPointData.h>
#include <vtkClipPolyData.h>
#include <vtkContourFilter.h>
#include <vtkDoubleArray.h>
#include <vtkGeometryFilter.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkRectilinearGrid.h>
#include <vtkStripper.h>
#include <vtkThreshold.h>
#include <vtkTransform.h>
#include <vtkTransformPolyDataFilter.h>
#include <vtkTriangleFilter.h>
#include <vtkUnsignedCharArray.h>

#include <algorithm>
#include <cmath>

#include "viz/outlines.h"

namespace tabmelt {

namespace {

vtkSmartPointer<vtkDoubleArray> edges_in_mm(const std::vector<double>& edges, std::size_t begin,
                                            std::size_t end) {
  auto array = vtkSmartPointer<vtkDoubleArray>::New();
  for (std::size_t k = begin; k <= end; ++k) {
    array->InsertNextValue(edges[k] * millimetres);
  }
  return array;
}

vtkSmartPointer<vtkPolyData> cut_to(vtkPolyData* mesh, const Polyline& outline) {
  vtkNew<vtkDoubleArray> inside;
  for (vtkIdType p = 0; p < mesh->GetNumberOfPoints(); ++p) {
    double at[3];
    mesh->GetPoint(p, at);
    // A hair of room keeps nodes on the outline inside: the clip drops cells that touch it there.
    constexpr double hair = 1e-6;  // [mm]
    inside->InsertNextValue(radius_at(outline, at[1] / millimetres) * millimetres - at[0] + hair);
  }
  inside->SetName("inside");
  const std::string field = mesh->GetPointData()->GetScalars()->GetName();
  vtkNew<vtkPolyData> marked;
  marked->ShallowCopy(mesh);
  marked->GetPointData()->AddArray(inside);
  marked->GetPointData()->SetActiveScalars("inside");
  vtkNew<vtkClipPolyData> clip;
  clip->SetInputData(marked);
  clip->SetValue(0);
  clip->Update();
  vtkSmartPointer<vtkPolyData> cut = clip->GetOutput();
  cut->GetPointData()->SetActiveScalars(field.c_str());
  return cut;
}

}  // namespace

vtkSmartPointer<vtkPolyData> region_mesh(const StoredRun& run, const std::vector<float>& field,
                                         std::uint8_t region, const Window& window) {
  const Range range = range_of(run, window);
  if (field.size() != run.region.size() || range.i_end == 0 || range.j_begin == range.j_end) {
    return vtkSmartPointer<vtkPolyData>::New();
  }
  // A cone is stored in steps: cells that it cuts are filled up to where the cone is cut off.
  const Polyline outline = silhouette(run, region);
  const auto cut_by_outline = [&](std::size_t i, std::size_t j) {
    return !outline.empty() && region_at(run, i, j) == region::empty &&
           run.z_edges[j] >= outline.front().y && run.z_edges[j + 1] <= outline.back().y &&
           run.r_edges[i] <
               std::max(radius_at(outline, run.z_edges[j]), radius_at(outline, run.z_edges[j + 1]));
  };
  vtkNew<vtkRectilinearGrid> grid;
  grid->SetDimensions(static_cast<int>(range.i_end + 1),
                      static_cast<int>(range.j_end - range.j_begin + 1), 1);
  grid->SetXCoordinates(edges_in_mm(run.r_edges, 0, range.i_end));
  grid->SetYCoordinates(edges_in_mm(run.z_edges, range.j_begin, range.j_end));
  vtkNew<vtkDoubleArray> values, inside;
  values->SetName("value");
  inside->SetName("inside");
  for (std::size_t j = range.j_begin; j < range.j_end; ++j) {
    float row_value = 0;
    for (std::size_t i = 0; i < range.i_end; ++i) {
      const bool filled_up = cut_by_outline(i, j) && i > 0;
      const float value = filled_up ? row_value : field[j * columns(run) + i];
      row_value = value;
      values->InsertNextValue(value);
      inside->InsertNextValue(filled_up || region_at(run, i, j) == region ? 1 : 0);
    }
  }
  grid->GetCellData()->AddArray(values);
  grid->GetCellData()->AddArray(inside);

  vtkNew<vtkThreshold> only;
  only->SetInputData(grid);
  only->SetInputArrayToProcess(0, 0, 0, vtkDataObject::FIELD_ASSOCIATION_CELLS, "inside");
  only->SetThresholdFunction(vtkThreshold::THRESHOLD_UPPER);
  only->SetUpperThreshold(0.5);
  vtkNew<vtkCellDataToPointData> to_nodes;
  to_nodes->SetInputConnection(only->GetOutputPort());
  vtkNew<vtkGeometryFilter> surface;
  surface->SetInputConnection(to_nodes->GetOutputPort());
  surface->Update();
  vtkSmartPointer<vtkPolyData> mesh = surface->GetOutput();
  mesh->GetPointData()->SetActiveScalars("value");
  if (!outline.empty()) {
    mesh = cut_to(mesh, outline);
  }
  return mesh;
}

vtkSmartPointer<vtkPolyData> bands(vtkPolyData* mesh, const std::vector<double>& edges,
                                   const std::vector<Colour>& colours) {
  vtkNew<vtkPolyData> clamped;
  clamped->ShallowCopy(mesh);
  vtkNew<vtkDoubleArray> values;
  values->SetName("value");
  const auto* const original = mesh->GetPointData()->GetScalars();
  const double margin = 1e-9 * (edges.back() - edges.front());
  for (vtkIdType p = 0; p < mesh->GetNumberOfPoints(); ++p) {
    const double value = const_cast<vtkDataArray*>(original)->GetComponent(p, 0);
    values->InsertNextValue(std::clamp(value, edges.front() + margin, edges.back() - margin));
  }
  clamped->GetPointData()->SetScalars(values);

  vtkNew<vtkTriangleFilter> triangles;
  triangles->SetInputData(clamped);
  vtkNew<vtkBandedPolyDataContourFilter> banded;
  banded->SetInputConnection(triangles->GetOutputPort());
  banded->SetNumberOfContours(static_cast<int>(edges.size()));
  for (std::size_t k = 0; k < edges.size(); ++k) {
    banded->SetValue(static_cast<int>(k), edges[k]);
  }
  banded->SetScalarModeToValue();
  vtkNew<vtkTriangleFilter> flat;
  flat->SetInputConnection(banded->GetOutputPort());
  flat->PassVertsOff();
  flat->PassLinesOff();
  flat->Update();

  // The filter gives each polygon the value at the foot of its band.
  vtkSmartPointer<vtkPolyData> result = flat->GetOutput();
  auto* const feet = result->GetCellData()->GetScalars();
  vtkNew<vtkUnsignedCharArray> paint;
  paint->SetName("colour");
  paint->SetNumberOfComponents(4);
  for (vtkIdType c = 0; c < result->GetNumberOfCells(); ++c) {
    const double foot = feet != nullptr ? feet->GetComponent(c, 0) : edges.front();
    const auto next = std::upper_bound(edges.begin(), edges.end(), foot + margin);
    const auto band = std::clamp<std::ptrdiff_t>(next - edges.begin() - 1, 0,
                                                 static_cast<std::ptrdiff_t>(colours.size()) - 1);
    const Colour& colour = colours[static_cast<std::size_t>(band)];
    paint->InsertNextTuple4(std::round(255 * colour.red), std::round(255 * colour.green),
                            std::round(255 * colour.blue), 255);
  }
  result->GetCellData()->SetScalars(paint);
  return result;
}

std::vector<Polyline> isolines(vtkPolyData* mesh, double value) {
  vtkNew<vtkContourFilter> contour;
  contour->SetInputData(mesh);
  contour->SetValue(0, value);
  vtkNew<vtkStripper> joined;
  joined->SetInputConnection(contour->GetOutputPort());
  joined->JoinContiguousSegmentsOn();
  joined->Update();
  std::vector<Polyline> lines;
  vtkPolyData* const result = joined->GetOutput();
  for (vtkIdType c = 0; c < result->GetNumberOfCells(); ++c) {
    vtkIdType count = 0;
    const vtkIdType* ids = nullptr;
    result->GetCellPoints(c, count, ids);
    Polyline line;
    for (vtkIdType k = 0; k < count; ++k) {
      double at[3];
      result->GetPoint(ids[k], at);
      line.push_back({at[0], at[1]});
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

vtkSmartPointer<vtkPolyData> moved(vtkPolyData* mesh, Point origin, double x_scale,
                                   double y_scale) {
  vtkNew<vtkTransform> transform;
  transform->Translate(origin.x, origin.y, 0);
  transform->Scale(x_scale, y_scale, 1);
  vtkNew<vtkTransformPolyDataFilter> filter;
  filter->SetTransform(transform);
  filter->SetInputData(mesh);
  filter->Update();
  return filter->GetOutput();
}

}  // namespace tabmelt
