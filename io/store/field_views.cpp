#include "io/store/field_views.h"

#include "io/store/field_file.h"
#include "io/store/hdf5_datasets.h"

namespace tabmelt {

void write_field_views(H5::H5File& file, const mesh::AxisymmetricGrid& grid,
                       const std::vector<double>& times) {
  const std::size_t nr = grid.nr(), nz = grid.nz(), cells = grid.cells(), frames = times.size();
  std::vector<double> r, z;
  for (std::size_t i = 0; i < nr; ++i) r.push_back(grid.r_centre(i));
  for (std::size_t j = 0; j < nz; ++j) z.push_back(grid.z_centre(j));

  H5::Group group = file.createGroup("fields");
  // Own datasets, not links: a hard link to Steps/Values stops some NetCDF readers.
  H5::DataSet r_axis = hdf5::write_array(group, "r", {nr}, r, {"m", "radius of cell centres"});
  H5::DataSet z_axis =
      hdf5::write_array(group, "z", {nz}, z, {"m", "height of cell centres, 0: faying surface"});
  hdf5::make_scale(r_axis, "r");
  hdf5::make_scale(z_axis, "z");

  const auto stored_once = [&](const char* name, const H5::DataType& type, const char* units,
                               const char* long_name) {
    H5::DataSet view =
        hdf5::write_view(group, name, {nz, nr}, std::string("/VTKHDF/CellData/") + name, {cells},
                         type, {units, long_name});
    hdf5::attach_scale(view, z_axis, 0);
    hdf5::attach_scale(view, r_axis, 1);
  };
  stored_once("region_id", H5::PredType::STD_U8LE, "1", "part of the weld each cell belongs to");
  stored_once("peak_temperature", H5::PredType::IEEE_F32LE, "K", "hottest over the run");
  stored_once("peak_liquid_fraction", H5::PredType::IEEE_F32LE, "1",
              "largest liquid part over the run");
  if (frames == 0) return;

  H5::DataSet time_axis =
      hdf5::write_array(group, "time", {frames}, times, {"s", "time of each frame"});
  hdf5::make_scale(time_axis, "time");
  H5::DataSet component_axis =
      hdf5::write_array(group, "component", {3}, std::vector<std::int32_t>{0, 1, 2},
                        {"1", "vector component: 0 radial, 1 axial, 2 around the axis"});
  hdf5::make_scale(component_axis, "component");
  for (const FieldArray& array : field_arrays()) {
    hdf5::Shape shape{frames, nz, nr}, source{frames * cells};
    if (array.components > 1) {
      shape.push_back(array.components);
      source.push_back(array.components);
    }
    H5::DataSet view =
        hdf5::write_view(group, array.name, shape, std::string("/VTKHDF/CellData/") + array.name,
                         source, H5::PredType::IEEE_F32LE, {array.units, array.long_name});
    hdf5::attach_scale(view, time_axis, 0);
    hdf5::attach_scale(view, z_axis, 1);
    hdf5::attach_scale(view, r_axis, 2);
    if (array.components > 1) hdf5::attach_scale(view, component_axis, 3);
  }
}

void write_series(H5::H5File& file, const std::vector<Series>& columns,
                  const std::vector<StepRecord>& history) {
  H5::Group group = file.createGroup("series");
  std::vector<double> values(history.size());
  H5::DataSet time_axis;
  for (const Series& column : columns) {
    for (std::size_t n = 0; n < history.size(); ++n) values[n] = column.value(history[n]);
    H5::DataSet dataset =
        hdf5::write_array(group, column.key, {values.size()}, values, {column.unit, column.words});
    if (column.key == "time") {
      time_axis = dataset;
      hdf5::make_scale(time_axis, "time");
    } else {
      hdf5::attach_scale(dataset, time_axis, 0);
    }
  }
}

}  // namespace tabmelt
