#include "viz/current_lines.h"

#include <vtkDoubleArray.h>
#include <vtkGeometryFilter.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkRectilinearGrid.h>

#include <algorithm>
#include <cmath>

#include "viz/structured_mesh.h"

namespace tabmelt {

namespace {

std::size_t interval_of(const std::vector<double>& edges, double value) {
  const auto next = std::upper_bound(edges.begin(), edges.end(), value) - edges.begin();
  return static_cast<std::size_t>(
      std::clamp<std::ptrdiff_t>(next - 1, 0, static_cast<std::ptrdiff_t>(edges.size()) - 2));
}

}  // namespace

CurrentLines current_lines(const StoredRun& run, const Frame& frame, int tubes,
                           const Window& window) {
  CurrentLines result;
  if (frame.current_density.size() != 3 * run.region.size()) {
    return result;
  }
  const std::size_t nr = columns(run);
  const Range range = range_of(run, window);
  // Nodes at the radial edges, where the integral over whole cells is exact, and at the rows'
  // middles, where the current density is stored.
  vtkNew<vtkDoubleArray> r, z, flat, inside;
  for (const double edge : run.r_edges) {
    r->InsertNextValue(edge * millimetres);
  }
  flat->InsertNextValue(0);
  inside->SetName("value");
  for (std::size_t j = range.j_begin; j < range.j_end; ++j) {
    z->InsertNextValue(0.5 * (run.z_edges[j] + run.z_edges[j + 1]) * millimetres);
    double enclosed = 0;
    inside->InsertNextValue(0);
    for (std::size_t i = 0; i < nr; ++i) {
      const double area =
          M_PI * (run.r_edges[i + 1] * run.r_edges[i + 1] - run.r_edges[i] * run.r_edges[i]);
      enclosed -= static_cast<double>(frame.current_density[3 * (j * nr + i) + 1]) * area;
      inside->InsertNextValue(enclosed);
    }
    if (std::abs(enclosed) > std::abs(result.total)) {
      result.total = enclosed;
    }
  }
  if (result.total == 0 || z->GetNumberOfValues() < 2) {
    return result;
  }
  vtkNew<vtkRectilinearGrid> grid;
  grid->SetDimensions(static_cast<int>(nr + 1), static_cast<int>(z->GetNumberOfValues()), 1);
  grid->SetXCoordinates(r);
  grid->SetYCoordinates(z);
  grid->SetZCoordinates(flat);
  grid->GetPointData()->SetScalars(inside);
  vtkNew<vtkGeometryFilter> surface;
  surface->SetInputData(grid);
  surface->Update();
  for (int k = 1; k < tubes; ++k) {
    for (Polyline& line : isolines(surface->GetOutput(), result.total * k / tubes)) {
      result.lines.push_back(std::move(line));
    }
  }
  return result;
}

Point current_direction(const StoredRun& run, const Frame& frame, Point at) {
  const std::size_t cell = interval_of(run.z_edges, at.y / millimetres) * columns(run) +
                           interval_of(run.r_edges, at.x / millimetres);
  return {frame.current_density[3 * cell], frame.current_density[3 * cell + 1]};
}

}  // namespace tabmelt
