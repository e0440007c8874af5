#include "viz/live_section.h"

#include <vtkCellArray.h>
#include <vtkFloatArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "viz/outlines.h"
#include "viz/stored_values.h"

namespace tabmelt {

namespace {
constexpr int shell_steps = 54;  // 5 degrees each
constexpr double shell_turn = 1.5 * M_PI;
}  // namespace

std::string field_name(Field field) {
  switch (field) {
    case Field::temperature:
      return "Temperature";
    case Field::liquid_fraction:
      return "Liquid share";
    case Field::potential:
      return "Potential";
    case Field::current_density:
      return "Current density";
  }
  return {};
}

std::string unit_of(Field field) {
  switch (field) {
    case Field::temperature:
      return "\u00b0C";
    case Field::potential:
      return "mV";
    case Field::current_density:
      return "A/mm\u00b2";
    case Field::liquid_fraction:
      break;
  }
  return "1";
}

FrameField stored_field(Field field) {
  switch (field) {
    case Field::temperature:
      return &Frame::temperature;
    case Field::liquid_fraction:
      return &Frame::liquid_fraction;
    case Field::potential:
      return &Frame::potential;
    case Field::current_density:
      return &Frame::current_density;
  }
  return nullptr;
}

std::vector<float> shown_values(Field field, const std::vector<float>& stored) {
  std::vector<float> values;
  values.reserve(stored.size());
  switch (field) {
    case Field::temperature:
      for (const float kelvin : stored) {
        values.push_back(static_cast<float>(celsius(kelvin)));
      }
      break;
    case Field::liquid_fraction:
      values = stored;
      break;
    case Field::potential:
      for (const float volts : stored) {
        values.push_back(1e3F * volts);
      }
      break;
    case Field::current_density:
      for (std::size_t n = 0; n + 2 < stored.size(); n += 3) {
        values.push_back(1e-6F * std::hypot(stored[n], stored[n + 1]));
      }
      break;
  }
  return values;
}

std::vector<float> cell_values(const Frame& frame, Field field) {
  return shown_values(field, frame.*stored_field(field));
}

float place_on(const Scale& scale, float value) {
  const std::vector<double>& edges = scale.edges;
  if (!(value > edges.front())) {
    return 0;
  }
  const auto above = std::upper_bound(edges.begin(), edges.end(), static_cast<double>(value));
  if (above == edges.end()) {
    return static_cast<float>(edges.size() - 1);
  }
  const double low = *(above - 1);
  return static_cast<float>(static_cast<double>(above - edges.begin() - 1) +
                            (value - low) / (*above - low));
}

LiveSection::LiveSection(const StoredRun& run) {
  require_mesh(run);
  build_section(run);
  build_shell(run);
}

// Each region has nodes of its own, so that no jump across a contact blurs.
void LiveSection::build_section(const StoredRun& run) {
  const std::size_t nr = columns(run), nz = rows(run);
  const Polyline cone = silhouette(run, region::electrode);
  // A cone is stored in steps: the empty cells it cuts are filled, and nodes beyond it move onto
  // it.
  const auto region_drawn = [&](std::size_t i, std::size_t j) -> std::uint8_t {
    const std::uint8_t own = region_at(run, i, j);
    if (own != region::empty || cone.empty() || i == 0) {
      return own;
    }
    const bool cut = run.z_edges[j] >= cone.front().y && run.z_edges[j + 1] <= cone.back().y &&
                     run.r_edges[i] < std::max(radius_at(cone, run.z_edges[j]),
                                               radius_at(cone, run.z_edges[j + 1]));
    return cut ? region::electrode : own;
  };
  vtkNew<vtkPoints> points;
  vtkNew<vtkCellArray> quads;
  std::map<std::tuple<std::uint8_t, std::size_t, std::size_t>, vtkIdType> known;
  const auto node = [&](std::uint8_t part, std::size_t i, std::size_t j) {
    const auto [entry, is_new] = known.emplace(std::make_tuple(part, i, j), 0);
    if (is_new) {
      double r = run.r_edges[i];
      if (part == region::electrode && !cone.empty()) {
        r = std::min(r, radius_at(cone, run.z_edges[j]));
      }
      entry->second = points->InsertNextPoint(r * millimetres, run.z_edges[j] * millimetres, 0);
      cells_at_.push_back({-1, -1, -1, -1});
      grid_places_.push_back({i, j});
    }
    return entry->second;
  };
  corners_.assign(nr * nz, {-1, -1, -1, -1});
  parts_.assign(nr * nz, region::empty);
  for (std::size_t j = 0; j < nz; ++j) {
    std::size_t source = 0;  // a filled cell takes the value of its neighbour in the part
    for (std::size_t i = 0; i < nr; ++i) {
      const std::uint8_t part = region_drawn(i, j);
      if (part == region::empty) {
        continue;
      }
      if (region_at(run, i, j) == part) {
        source = j * nr + i;
      }
      const vtkIdType corners[4] = {node(part, i, j), node(part, i + 1, j),
                                    node(part, i + 1, j + 1), node(part, i, j + 1)};
      quads->InsertNextCell(4, corners);
      parts_[j * nr + i] = part;
      for (std::size_t corner = 0; corner < 4; ++corner) {
        corners_[j * nr + i][corner] = static_cast<std::int32_t>(corners[corner]);
        cells_at_[static_cast<std::size_t>(corners[corner])][corner] =
            static_cast<std::int32_t>(source);
      }
    }
  }
  section_ = vtkSmartPointer<vtkPolyData>::New();
  section_->SetPoints(points);
  section_->SetPolys(quads);
  const auto array = [&](const char* name, vtkPolyData* mesh) {
    auto made = vtkSmartPointer<vtkFloatArray>::New();
    made->SetName(name);
    made->SetNumberOfTuples(mesh->GetNumberOfPoints());
    made->FillValue(0);
    mesh->GetPointData()->AddArray(made);
    return made;
  };
  values_ = array("value", section_);
  places_ = array("band", section_);
  section_->GetPointData()->SetActiveScalars("band");
}

// The edges of the section with a part on one side only, turned around the axis. Where two parts
// touch, each has nodes of its own, but nobody sees between them.
void LiveSection::build_shell(const StoredRun& run) {
  struct Edge {
    vtkIdType from = 0, to = 0;
    int sides = 0;
  };
  using GridPlace = std::array<std::size_t, 2>;
  std::map<std::pair<GridPlace, GridPlace>, Edge> edges;
  for (const std::array<std::int32_t, 4>& nodes : corners_) {
    for (std::size_t k = 0; nodes[0] >= 0 && k < 4; ++k) {
      const std::int32_t a = nodes[k], b = nodes[(k + 1) % 4];
      Edge& edge = edges[std::minmax(grid_places_[static_cast<std::size_t>(a)],
                                     grid_places_[static_cast<std::size_t>(b)])];
      edge = {a, b, edge.sides + 1};
    }
  }
  vtkNew<vtkPoints> points;
  vtkNew<vtkCellArray> faces;
  std::map<vtkIdType, vtkIdType> first;  // first of the turned copies of a node
  const auto turned = [&](vtkIdType node) {
    const auto [entry, is_new] = first.emplace(node, points->GetNumberOfPoints());
    if (is_new) {
      double at[3];
      section_->GetPoint(node, at);
      for (int k = 0; k <= shell_steps; ++k) {
        const double angle = shell_turn * k / shell_steps;
        points->InsertNextPoint(at[0] * std::cos(angle), at[1], -at[0] * std::sin(angle));
        shell_nodes_.push_back(static_cast<int>(node));
      }
    }
    return entry->second;
  };
  const double axis = run.r_edges.front() * millimetres + 1e-9;
  for (const auto& [ends, edge] : edges) {
    double a[3], b[3];
    section_->GetPoint(edge.from, a);
    section_->GetPoint(edge.to, b);
    if (edge.sides > 1 || (a[0] <= axis && b[0] <= axis)) {
      continue;
    }
    const vtkIdType one = turned(edge.from), two = turned(edge.to);
    for (int k = 0; k < shell_steps; ++k) {
      const vtkIdType corners[4] = {one + k, two + k, two + k + 1, one + k + 1};
      faces->InsertNextCell(4, corners);
    }
  }
  shell_ = vtkSmartPointer<vtkPolyData>::New();
  shell_->SetPoints(points);
  shell_->SetPolys(faces);
  shell_places_ = vtkSmartPointer<vtkFloatArray>::New();
  shell_places_->SetName("band");
  shell_places_->SetNumberOfTuples(points->GetNumberOfPoints());
  shell_places_->FillValue(0);
  shell_->GetPointData()->SetScalars(shell_places_);
}

void LiveSection::show(const std::vector<float>& cell_values, const Scale& scale) {
  float* const values = values_->GetPointer(0);
  float* const places = places_->GetPointer(0);
  for (std::size_t n = 0; n < cells_at_.size(); ++n) {
    float sum = 0;
    int count = 0;
    for (const std::int32_t cell : cells_at_[n]) {
      if (cell >= 0 && static_cast<std::size_t>(cell) < cell_values.size()) {
        sum += cell_values[static_cast<std::size_t>(cell)];
        ++count;
      }
    }
    values[n] = count > 0 ? sum / static_cast<float>(count) : 0;
    places[n] = place_on(scale, values[n]);
  }
  float* const shell = shell_places_->GetPointer(0);
  for (std::size_t n = 0; n < shell_nodes_.size(); ++n) {
    shell[n] = places[shell_nodes_[n]];
  }
  for (vtkFloatArray* const array : {values_.Get(), places_.Get(), shell_places_.Get()}) {
    array->Modified();
  }
  section_->Modified();
  shell_->Modified();
}

}  // namespace tabmelt
