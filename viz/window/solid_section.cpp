#include "viz/window/solid_section.h"

#include <vtkCamera.h>
#include <vtkCellArray.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkProperty.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace tabmelt::window {

namespace {

constexpr int shell_steps = 54;  // 5 degrees each
constexpr double shell_turn = 1.5 * M_PI;

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

SolidSection::SolidSection(ShownRun& run) : run_(run) {
  renderer_->SetBackground(1, 1, 1);
  // Lines lie in the plane of the faces and must win.
  vtkMapper::SetResolveCoincidentTopologyToPolygonOffset();
  build_face();
  build_shell();
  for (const double turn : {0.0, -90.0}) {
    const auto face = coloured(face_);
    face->GetProperty()->SetLighting(false);
    face->SetOrientation(0, turn, 0);
  }
  const auto shell = coloured(shell_);
  // Brighter than the cut faces, or cold metal, which is dark, would show no shape.
  shell->GetProperty()->SetAmbient(0.8);
  shell->GetProperty()->SetDiffuse(0.9);
  shell->GetProperty()->SetSpecular(0.35);
  shell->GetProperty()->SetSpecularPower(10);
  vtkNew<vtkPolyDataMapper> outlines;
  outlines->SetInputData(lines_of(run.outlines()));
  both_faces(outlines, {0.93, 0.93, 0.91}, 1.4);
  isotherms_ = both_faces(isotherm_, palette::black, 1.6);
  melts_ = both_faces(melt_, palette::black, 2.8);
}

vtkSmartPointer<vtkActor> SolidSection::coloured(vtkPolyData* mesh) {
  vtkNew<vtkPolyDataMapper> mapper;
  mapper->SetInputData(mesh);
  mapper->SetLookupTable(colours_);
  mapper->UseLookupTableScalarRangeOn();
  mapper->InterpolateScalarsBeforeMappingOn();
  auto actor = vtkSmartPointer<vtkActor>::New();
  actor->SetMapper(mapper);
  renderer_->AddActor(actor);
  return actor;
}

std::array<vtkSmartPointer<vtkActor>, 2> SolidSection::both_faces(vtkPolyDataMapper* mapper,
                                                                  const Colour& colour,
                                                                  double width) {
  std::array<vtkSmartPointer<vtkActor>, 2> actors;
  for (auto& actor : actors) {
    actor = vtkSmartPointer<vtkActor>::New();
    actor->SetMapper(mapper);
    actor->GetProperty()->SetColor(colour.red, colour.green, colour.blue);
    actor->GetProperty()->SetLineWidth(static_cast<float>(width));
    actor->GetProperty()->SetLighting(false);
    renderer_->AddActor(actor);
  }
  actors[1]->SetOrientation(0, -90, 0);
  return actors;
}

void SolidSection::build_face() {
  vtkNew<vtkPoints> points;
  for (const Point& node : run_.section().mesh.nodes) {
    points->InsertNextPoint(node.x, node.y, 0);
  }
  vtkNew<vtkCellArray> quads;
  for (const auto& cell : run_.section().mesh.cells) {
    const vtkIdType corners[4] = {cell[0], cell[1], cell[2], cell[3]};
    quads->InsertNextCell(4, corners);
  }
  face_->SetPoints(points);
  face_->SetPolys(quads);
  face_places_->SetNumberOfTuples(points->GetNumberOfPoints());
  face_->GetPointData()->SetScalars(face_places_);
}

// The edges of the section with a part on one side only, turned around the axis. Where two parts
// touch, each has nodes of its own, but nobody sees between them.
void SolidSection::build_shell() {
  const SectionMesh& section = run_.section();
  struct Edge {
    std::size_t from = 0, to = 0;
    int sides = 0;
  };
  using GridPlace = std::array<std::size_t, 2>;
  std::map<std::pair<GridPlace, GridPlace>, Edge> edges;
  for (const auto& cell : section.mesh.cells) {
    for (std::size_t k = 0; k < 4; ++k) {
      const auto a = static_cast<std::size_t>(cell[k]);
      const auto b = static_cast<std::size_t>(cell[(k + 1) % 4]);
      Edge& edge = edges[std::minmax(section.grid_nodes[a], section.grid_nodes[b])];
      edge = {a, b, edge.sides + 1};
    }
  }
  vtkNew<vtkPoints> points;
  vtkNew<vtkCellArray> faces;
  std::map<std::size_t, vtkIdType> first;  // first of the turned copies of a node
  const auto turned = [&](std::size_t node) {
    const auto [entry, is_new] = first.emplace(node, points->GetNumberOfPoints());
    if (is_new) {
      const Point& at = section.mesh.nodes[node];
      for (int k = 0; k <= shell_steps; ++k) {
        const double angle = shell_turn * k / shell_steps;
        points->InsertNextPoint(at.x * std::cos(angle), at.y, -at.x * std::sin(angle));
        shell_nodes_.push_back(node);
      }
    }
    return entry->second;
  };
  const double axis = run_.run().r_edges.front() * millimetres + 1e-9;
  for (const auto& [ends, edge] : edges) {
    const Point& a = section.mesh.nodes[edge.from];
    const Point& b = section.mesh.nodes[edge.to];
    if (edge.sides > 1 || (a.x <= axis && b.x <= axis)) {
      continue;
    }
    const vtkIdType one = turned(edge.from), two = turned(edge.to);
    for (int k = 0; k < shell_steps; ++k) {
      const vtkIdType corners[4] = {one + k, two + k, two + k + 1, one + k + 1};
      faces->InsertNextCell(4, corners);
    }
  }
  shell_->SetPoints(points);
  shell_->SetPolys(faces);
  shell_places_->SetNumberOfTuples(points->GetNumberOfPoints());
  shell_->GetPointData()->SetScalars(shell_places_);
}

void SolidSection::show(std::size_t frame, const Shown& shown, const Scale& scale) {
  const auto bands = static_cast<vtkIdType>(scale.colours.size());
  colours_->SetNumberOfTableValues(bands);
  colours_->SetTableRange(0, static_cast<double>(bands));
  for (vtkIdType k = 0; k < bands; ++k) {
    const Colour& colour = scale.colours[static_cast<std::size_t>(k)];
    colours_->SetTableValue(k, colour.red, colour.green, colour.blue, 1);
  }
  std::vector<float> places = run_.at_nodes(frame, shown.field);
  for (float& place : places) {
    place = static_cast<float>(scale.place(place));
  }
  std::copy(places.begin(), places.end(), face_places_->GetPointer(0));
  std::transform(shell_nodes_.begin(), shell_nodes_.end(), shell_places_->GetPointer(0),
                 [&](std::size_t node) { return places[node]; });
  face_places_->Modified();
  shell_places_->Modified();
  const bool isotherm = shown.isotherm && shown.field == Field::temperature;
  if (isotherm) {
    isotherm_->SetInputData(lines_of(run_.isotherm(frame, shown.level)));
  }
  for (const auto& actor : isotherms_) {
    actor->SetVisibility(isotherm);
  }
  const bool melt = shown.field == Field::temperature || shown.field == Field::liquid_fraction;
  if (melt) {
    melt_->SetInputData(lines_of(run_.melt(frame)));
  }
  for (const auto& actor : melts_) {
    actor->SetVisibility(melt);
  }
}

void SolidSection::look(const Window& shown, double width_to_height) {
  const double middle = 0.5 * (shown.z_min + shown.z_max) * millimetres;
  const double height = 0.5 * (shown.z_max - shown.z_min) * millimetres;
  vtkCamera* const camera = renderer_->GetActiveCamera();
  camera->ParallelProjectionOn();
  camera->SetFocalPoint(0, middle, 0);
  camera->SetPosition(10, middle + 7, 14);
  camera->SetViewUp(0, 1, 0);
  camera->SetParallelScale(1.15 * std::max(height, shown.r_max * millimetres / width_to_height));
  renderer_->ResetCameraClippingRange();
}

}  // namespace tabmelt::window
