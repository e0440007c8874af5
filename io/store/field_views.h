// The parts of a field file that need the number of frames: /fields, views of the flat arrays as
// (time, z, r), and /series. Views are written at the end because HDF5 cannot let one of another
// rank grow. To be used inside an Hdf5Section; throws H5::Exception.
#pragma once

#include <H5Cpp.h>

#include <vector>

#include "mesh/axisymmetric_grid.h"
#include "solver/catalogue/catalogue.h"
#include "solver/result/result.h"

namespace tabmelt {

void write_field_views(H5::H5File& file, const mesh::AxisymmetricGrid& grid,
                       const std::vector<double>& times);
void write_series(H5::H5File& file, const std::vector<Series>& columns,
                  const std::vector<StepRecord>& history);

}  // namespace tabmelt
