// A stored run's fields as VTK meshes: x = r, y = z in millimetres.
//
// Every region becomes a mesh of its own with the cell values averaged to its nodes, so that
// neither empty space nor the jump across a contact blurs into the metal.
#pragma once

#include <vtkSmartPointer.h>

#include <cstdint>
#include <vector>

#include "solver/result/stored_run.h"
#include "viz/outlines.h"
#include "viz/page.h"

class vtkPolyData;

namespace tabmelt {

// One region's cells inside the window with the field as active point scalars; `field` has one
// value per cell of the run. The cone of a tapered electrode, stored in steps, is drawn straight.
vtkSmartPointer<vtkPolyData> region_mesh(const StoredRun&, const std::vector<float>& field,
                                         std::uint8_t region, const Window&);

// The mesh cut into filled bands between edges[n] and edges[n+1], colours[n] each; values beyond
// the edges take the first or last colour.
vtkSmartPointer<vtkPolyData> bands(vtkPolyData* mesh, const std::vector<double>& edges,
                                   const std::vector<Colour>& colours);

// Lines of constant value [mm].
std::vector<Polyline> isolines(vtkPolyData* mesh, double value);

// A copy of a mesh moved to page units: x' = x0 + x_scale * x, y' = y0 + y_scale * y.
vtkSmartPointer<vtkPolyData> moved(vtkPolyData* mesh, Point origin, double x_scale, double y_scale);

}  // namespace tabmelt
