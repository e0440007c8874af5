// A problem turned into what the march works on: the grid, the touching planes, the rows that carry
// current, and per region the compiled laws of its material.
#pragma once

#include <memory>
#include <vector>

#include "mesh/axisymmetric_grid.h"
#include "solver/contact/contact.h"
#include "solver/electric_potential/potential.h"
#include "solver/material/property_table.h"
#include "solver/phase_change/enthalpy.h"
#include "solver/problem/problem.h"
#include "solver/result/result.h"

namespace tabmelt {

struct RegionLaw {
  const Material* material = nullptr;
  std::unique_ptr<PropertyTable> table;
  std::unique_ptr<Enthalpy> enthalpy;
  bool carries_current = false;
};

// Where one sheet of the stack lies.
struct SheetRows {
  std::uint8_t region = 0;
  std::size_t lowest = 0, highest = 0;
};

struct WeldModel {
  mesh::AxisymmetricGrid grid;
  std::vector<Part> parts;           // index: region number
  std::vector<RegionLaw> laws;       // index: region number; [0] is empty
  std::uint8_t electrode = 0;        // its region
  RowRange current_rows;             // underside of the lowest sheet to electrode end
  std::vector<ContactPlane> planes;  // [n] lies on sheets[n]: the tip's, then the joints
  std::vector<GroundedRim> rims;
  std::vector<SheetRows> sheets;            // from the top
  std::vector<std::size_t> layer_top_rows;  // highest row of each inner layer
  double cold_face = 0;  // [m] radius over which the cold tip touches under its full force

  const RegionLaw& law(std::size_t cell) const { return laws[grid.region(cell)]; }
  const RegionLaw& sheet_law(std::size_t n) const { return laws[sheets[n].region]; }
  std::size_t wall_row() const { return sheets.back().lowest; }
  std::size_t joints() const { return sheets.size() - 1; }
  const ContactPlane& joint(std::size_t n) const { return planes[n + 1]; }
};

WeldModel build_model(const Problem&);

// Columns and rows of its grid, which is not built for it.
struct GridSize {
  std::size_t nr = 0, nz = 0;
};
GridSize grid_size(const Problem&);

}  // namespace tabmelt
