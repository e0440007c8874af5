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
#include "solver/problem/regions.h"

namespace tabmelt {

struct RegionLaw {
  const Material* material = nullptr;
  std::unique_ptr<PropertyTable> table;
  std::unique_ptr<Enthalpy> enthalpy;
};

struct WeldModel {
  mesh::AxisymmetricGrid grid;
  std::vector<std::string> region_names;  // index: region number
  std::vector<RegionLaw> laws;            // index: region number; [0] is empty
  RowRange current_rows;                  // can bottom to electrode end
  std::vector<ContactPlane> planes;       // [0] electrode on strip, [1] strip on can
  std::vector<GroundedRim> rims;
  std::size_t wall_row = 0;                 // lowest row of the can
  std::size_t faying_row = 0;               // highest row of the can
  std::size_t strip_top_row = 0;            // highest row of the strip
  std::vector<std::size_t> layer_top_rows;  // highest row of each inner layer
  double cold_face = 0;  // [m] radius over which the cold tip touches under its full force

  const RegionLaw& law(std::size_t cell) const { return laws[grid.region(cell)]; }
};

WeldModel build_model(const Problem&);

}  // namespace tabmelt
