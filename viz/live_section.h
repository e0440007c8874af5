// A run's half-section as one VTK mesh whose values change from moment to moment while its shape
// stays: a new moment costs one pass over the nodes. x = r, y = z in millimetres.
#pragma once

#include <vtkFloatArray.h>
#include <vtkPolyData.h>
#include <vtkSmartPointer.h>

#include <array>
#include <vector>

#include "solver/result/stored_run.h"
#include "viz/annotations.h"

namespace tabmelt {

enum class Field { temperature, liquid_fraction, potential, current_density };
inline constexpr std::array all_fields{Field::temperature, Field::liquid_fraction, Field::potential,
                                       Field::current_density};

std::string field_name(Field);
std::string unit_of(Field);
// What of a frame a field is made from, and the stored values in the unit shown: degrees Celsius,
// 1, mV, A/mm^2 (the length of the vector).
FrameField stored_field(Field);
std::vector<float> shown_values(Field, const std::vector<float>& stored);
// One value per cell. Empty if the frame lacks it.
std::vector<float> cell_values(const Frame&, Field);

class LiveSection {
 public:
  explicit LiveSection(const StoredRun&);

  // Two arrays per node: "band" places the value on a scale (k + share within band k), for colours;
  // "value" is the value itself, for isolines.
  vtkPolyData* section() const { return section_; }
  // The free surface of all parts turned three quarters around the axis, "band" only; the two cut
  // faces are the section itself. z of the mesh is the depth.
  vtkPolyData* shell() const { return shell_; }

  // "band" of every node, and the nodes at a cell's corners, anticlockwise from the lower left; -1
  // where nothing is drawn. A cone's cells are drawn although stored as empty, so the part that a
  // cell is drawn as may differ from its region.
  const float* places() const { return places_->GetPointer(0); }
  const std::array<std::int32_t, 4>& corners(std::size_t cell) const { return corners_[cell]; }
  std::uint8_t part_drawn(std::size_t cell) const { return parts_[cell]; }

  void show(const std::vector<float>& cell_values, const Scale&);

 private:
  void build_section(const StoredRun&);
  void build_shell(const StoredRun&);

  vtkSmartPointer<vtkPolyData> section_, shell_;
  vtkSmartPointer<vtkFloatArray> values_, places_, shell_places_;
  std::vector<std::array<std::int32_t, 4>> cells_at_;    // per node; -1: none
  std::vector<std::array<std::int32_t, 4>> corners_;     // per cell
  std::vector<std::uint8_t> parts_;                      // per cell
  std::vector<std::array<std::size_t, 2>> grid_places_;  // column and row of each node
  std::vector<int> shell_nodes_;                         // node of each shell point
};

// k + share within band k; at the ends beyond the scale.
float place_on(const Scale&, float value);

}  // namespace tabmelt
