#include "io/store/field_file.h"

#include <H5Cpp.h>

#include <algorithm>
#include <utility>

#include "io/store/field_views.h"
#include "io/store/hdf5_datasets.h"
#include "io/store/hdf5_section.h"

namespace tabmelt {
namespace {

using hdf5::Meaning;
using hdf5::Packing;

constexpr std::uint8_t hidden_cell = 32;  // VTK's HIDDENCELL bit of vtkGhostType
constexpr std::uint8_t quad = 9;          // VTK_QUAD
// Offsets grow by one number per frame; a chunk of this many keeps the file small.
constexpr hsize_t offsets_per_chunk = 128;

// By this the memory of a file grows. [byte]
constexpr std::size_t memory_increment = 1 << 20;

// Runs one group of HDF5 calls and turns its failure into words.
template <typename Calls>
void guarded(Calls calls) {
  const Hdf5Section section;
  try {
    calls();
  } catch (const H5::Exception& failure) {
    throw FieldFileError(section.reason().empty() ? failure.getDetailMsg() : section.reason());
  }
}

std::vector<float> with_empty_cells_set(const std::vector<float>& values, std::size_t components,
                                        const std::vector<std::uint8_t>& regions, float empty) {
  std::vector<float> out = values;
  for (std::size_t cell = 0; cell < regions.size(); ++cell) {
    if (regions[cell] != mesh::empty) continue;
    for (std::size_t n = 0; n < components; ++n) out[cell * components + n] = empty;
  }
  return out;
}

void write_texts(H5::Group& group, const std::vector<Text>& texts) {
  for (const Text& text : texts) {
    hdf5::write_text(group, text.name, text.text, {"1", text.long_name});
  }
}

}  // namespace

const std::vector<FieldArray>& field_arrays() {
  static const std::vector<FieldArray> arrays = {
      {"temperature", 1, "K", "temperature", &Frame::temperature},
      {"liquid_fraction", 1, "1", "liquid part of the cell", &Frame::liquid_fraction},
      {"electric_potential", 1, "V", "electric potential of one spot, rim at 0", &Frame::potential},
      {"current_density", 3, "A m-2", "current density (J_r, J_z, 0)", &Frame::current_density},
  };
  return arrays;
}

struct FieldFile::Open {
  H5::H5File file;
  H5::Group texts, vtk, cell_data, steps, offsets;
  H5::Attribute step_count;
  std::vector<H5::DataSet> fields;          // as field_arrays()
  std::vector<H5::DataSet> field_offsets;   // as field_arrays()
  std::vector<H5::DataSet> constant_lists;  // one 0 per frame
  std::vector<H5::DataSet> one_per_frame;   // one 1 per frame
  H5::DataSet values, peak_temperature, peak_liquid_fraction;
  std::vector<std::uint8_t> regions;
  std::size_t nr = 0, nz = 0;
  std::int64_t frames = 0;
  double ambient = 0;
  std::vector<double> times;

  std::size_t cells() const { return nr * nz; }
  // The size of the file in memory; copies it if asked.
  std::size_t image(void* to, std::size_t room) const {
    const ::ssize_t size = H5Fget_file_image(file.getId(), to, room);
    if (size < 0) throw H5::FileIException("H5Fget_file_image", "failed");
    return static_cast<std::size_t>(size);
  }
  void write_mesh(const Result& run);
  void write_regions(const Result& run);
  void create_steps();
};

FieldFile::FieldFile(const std::string& name, const std::string& title,
                     const std::vector<Text>& texts, const std::string& date)
    : open_(std::make_unique<Open>()) {
  guarded([&] {
    H5::FileAccPropList in_memory;
    in_memory.setCore(memory_increment, false);
    open_->file = H5::H5File(name, H5F_ACC_TRUNC, H5::FileCreatPropList::DEFAULT, in_memory);
    H5::H5File& file = open_->file;
    hdf5::write_text_attribute(file, "schema_name", result_schema_name);
    hdf5::write_integer_attribute(file, "schema_version", result_schema_version);
    hdf5::write_text_attribute(file, "Conventions", "CF-1.10");
    hdf5::write_text_attribute(file, "title", title);
    hdf5::write_text_attribute(file, "program_version", TABMELT_VERSION);
    if (!date.empty()) hdf5::write_text_attribute(file, "date", date);
    hdf5::write_integer_attribute(file, "complete", 0);
    open_->texts = file.createGroup("texts");
    write_texts(open_->texts, texts);
  });
}

FieldFile::~FieldFile() {
  const Hdf5Section section;
  open_.reset();
}

void FieldFile::write_grid(const Result& run, double ambient) {
  guarded([&] {
    open_->nr = run.grid.nr();
    open_->nz = run.grid.nz();
    open_->regions = run.grid.regions();
    open_->ambient = ambient;
    open_->write_mesh(run);
    open_->write_regions(run);
    open_->create_steps();
  });
}

void FieldFile::Open::write_mesh(const Result& run) {
  const auto& r = run.grid.r_edges();
  const auto& z = run.grid.z_edges();
  H5::Group mesh = file.createGroup("mesh");
  hdf5::write_array(mesh, "r_edges", {r.size()}, r, {"m", "radial cell edges"});
  hdf5::write_array(mesh, "z_edges", {z.size()}, z, {"m", "axial cell edges, 0: faying surface"});

  vtk = file.createGroup("VTKHDF");
  const std::int32_t version[2] = {2, 0};
  const hsize_t two = 2;
  vtk.createAttribute("Version", H5::PredType::STD_I32LE, H5::DataSpace(1, &two))
      .write(H5::PredType::NATIVE_INT32, version);
  // Readers compare a fixed-length ASCII string of exactly this many characters.
  const std::string type = "UnstructuredGrid";
  const H5::StrType type_text(H5::PredType::C_S1, type.size());
  vtk.createAttribute("Type", type_text, H5::DataSpace(H5S_SCALAR)).write(type_text, type.data());

  const auto count = [&](const char* name, std::size_t value, const char* long_name) {
    hdf5::write_array(vtk, name, {1}, std::vector<std::int64_t>{static_cast<std::int64_t>(value)},
                      {"1", long_name});
  };
  count("NumberOfPoints", r.size() * z.size(), "number of mesh points");
  count("NumberOfCells", cells(), "number of cells");
  count("NumberOfConnectivityIds", 4 * cells(), "number of cell corners");

  std::vector<double> points;
  points.reserve(3 * r.size() * z.size());
  for (const double height : z) {
    for (const double radius : r) points.insert(points.end(), {radius, height, 0.0});
  }
  hdf5::write_packed_array(vtk, "Points", {r.size() * z.size(), 3}, points,
                           {"m", "points (r, z, 0)"});

  std::vector<std::int64_t> corners, ends{0};
  const auto row = static_cast<std::int64_t>(r.size());
  for (std::size_t j = 0; j < nz; ++j) {
    for (std::size_t i = 0; i < nr; ++i) {
      const auto first = static_cast<std::int64_t>(j) * row + static_cast<std::int64_t>(i);
      corners.insert(corners.end(), {first, first + 1, first + row + 1, first + row});
      ends.push_back(static_cast<std::int64_t>(corners.size()));
    }
  }
  hdf5::write_packed_array(vtk, "Connectivity", {corners.size()}, corners,
                           {"1", "corner points of each cell, anticlockwise"});
  hdf5::write_packed_array(vtk, "Offsets", {ends.size()}, ends,
                           {"1", "where each cell's corners begin"});
  hdf5::write_packed_array(vtk, "Types", {cells()}, std::vector<std::uint8_t>(cells(), quad),
                           {"1", "VTK cell type, 9: quad"});
}

void FieldFile::Open::write_regions(const Result& run) {
  cell_data = vtk.createGroup("CellData");
  H5::DataSet ids = hdf5::write_packed_array(cell_data, "region_id", {cells()}, regions,
                                             {"1", "part of the weld each cell belongs to"});
  std::vector<std::uint8_t> hidden(cells(), 0);
  for (std::size_t cell = 0; cell < cells(); ++cell) {
    if (regions[cell] == mesh::empty) hidden[cell] = hidden_cell;
  }
  hdf5::write_packed_array(cell_data, "vtkGhostType", {cells()}, hidden,
                           {"1", "32: empty cell, not drawn"});

  // CF flag meanings are single words; the exact names are in /mesh/region_names.
  std::string words;
  std::vector<std::uint8_t> numbers;
  std::vector<const char*> names, roles;
  for (std::size_t n = 0; n < run.parts.size(); ++n) {
    std::string word = run.parts[n].name;
    std::replace(word.begin(), word.end(), ' ', '_');
    words += (n ? " " : "") + word;
    numbers.push_back(static_cast<std::uint8_t>(n));
    names.push_back(run.parts[n].name.c_str());
    roles.push_back(word_of(run.parts[n].role));
  }
  if (names.empty()) return;
  const hsize_t many = names.size();
  const H5::DataSpace list(1, &many);
  ids.createAttribute("flag_values", H5::PredType::STD_U8LE, list)
      .write(H5::PredType::NATIVE_UINT8, numbers.data());
  hdf5::write_text_attribute(ids, "flag_meanings", words);
  H5::StrType text(H5::PredType::C_S1, H5T_VARIABLE);
  text.setCset(H5T_CSET_UTF8);
  H5::Group mesh = file.openGroup("mesh");
  const auto write_words = [&](const char* name, std::vector<const char*>& list_of,
                               const char* meaning) {
    H5::DataSet stored = mesh.createDataSet(name, text, list, hdf5::without_times());
    hdf5::describe(stored, {"1", meaning});
    stored.write(list_of.data(), text);
  };
  write_words("region_names", names, "name of each region number");
  write_words("region_roles", roles, "what of the stack each region is");
}

void FieldFile::Open::create_steps() {
  steps = vtk.createGroup("Steps");
  offsets = steps.createGroup("CellDataOffsets");
  step_count = steps.createAttribute("NSteps", H5::PredType::STD_I64LE, H5::DataSpace(H5S_SCALAR));
  step_count.write(H5::PredType::NATIVE_INT64, &frames);
  const auto list = [&](H5::Group& group, const std::string& name, const hdf5::Shape& row,
                        const std::string& long_name) {
    return hdf5::create_growing<std::int64_t>(group, name, row, offsets_per_chunk, Packing::none,
                                              {"1", long_name});
  };
  values = hdf5::create_growing<double>(steps, "Values", {}, offsets_per_chunk, Packing::none,
                                        {"s", "time of each frame"});
  one_per_frame.push_back(list(steps, "NumberOfParts", {}, "parts in each frame"));
  constant_lists.push_back(list(steps, "PartOffsets", {}, "first part of each frame"));
  constant_lists.push_back(list(steps, "PointOffsets", {}, "first point of each frame"));
  constant_lists.push_back(list(steps, "CellOffsets", {1}, "first cell of each frame"));
  constant_lists.push_back(list(steps, "ConnectivityIdOffsets", {1}, "first corner of each frame"));
  for (const FieldArray& array : field_arrays()) {
    hdf5::Shape row;
    if (array.components > 1) row.push_back(array.components);
    fields.push_back(hdf5::create_growing<float>(cell_data, array.name, row, cells(),
                                                 Packing::deflate, {array.units, array.long_name}));
    field_offsets.push_back(list(offsets, array.name, {}, "first value of each frame"));
  }
  const std::vector<float> unknown(cells(), 0.0F);
  peak_temperature = hdf5::write_packed_array(cell_data, "peak_temperature", {cells()}, unknown,
                                              {"K", "hottest over the run"});
  peak_liquid_fraction =
      hdf5::write_packed_array(cell_data, "peak_liquid_fraction", {cells()}, unknown,
                               {"1", "largest liquid part over the run"});
  for (auto* peak : {&peak_temperature, &peak_liquid_fraction}) {
    hdf5::write_integer_attribute(*peak, "filled", 0);
  }
  for (const char* name :
       {"region_id", "vtkGhostType", "peak_temperature", "peak_liquid_fraction"}) {
    constant_lists.push_back(list(offsets, name, {}, "stored once: always 0"));
  }
}

void FieldFile::append(const Frame& frame) {
  guarded([&] {
    Open& open = *open_;
    if (open.cells() == 0) throw FieldFileError("a frame came before the grid");
    const auto& arrays = field_arrays();
    for (std::size_t n = 0; n < arrays.size(); ++n) {
      const auto& source = frame.*arrays[n].values;
      if (source.size() != open.cells() * arrays[n].components) {
        throw FieldFileError(std::string("frame with a wrong number of values: ") + arrays[n].name);
      }
      const bool is_temperature = arrays[n].values == &Frame::temperature;
      hdf5::append_rows(open.fields[n], with_empty_cells_set(
                                            source, arrays[n].components, open.regions,
                                            is_temperature ? static_cast<float>(open.ambient) : 0));
    }
    const std::int64_t start = open.frames * static_cast<std::int64_t>(open.cells());
    for (auto& list : open.field_offsets) hdf5::append_rows<std::int64_t>(list, {start});
    for (auto& list : open.constant_lists) hdf5::append_rows<std::int64_t>(list, {0});
    for (auto& list : open.one_per_frame) hdf5::append_rows<std::int64_t>(list, {1});
    hdf5::append_rows<double>(open.values, {frame.time});
    ++open.frames;
    open.step_count.write(H5::PredType::NATIVE_INT64, &open.frames);
    open.times.push_back(frame.time);
  });
}

void FieldFile::finish(const Result& run, const std::vector<Series>& columns,
                       const std::vector<Quantity>& quantities, const std::vector<Text>& texts,
                       bool complete) {
  guarded([&] {
    Open& open = *open_;
    if (open.cells() > 0) {
      const auto fill = [&](H5::DataSet& peak, const std::vector<float>& values, double empty) {
        if (values.size() != open.cells()) return;
        peak.write(with_empty_cells_set(values, 1, open.regions, static_cast<float>(empty)).data(),
                   H5::PredType::NATIVE_FLOAT);
        hdf5::rewrite_integer_attribute(peak, "filled", 1);
      };
      fill(open.peak_temperature, run.peak_temperature, open.ambient);
      fill(open.peak_liquid_fraction, run.peak_liquid_fraction, 0);
      write_field_views(open.file, run.grid, open.times);
    }
    write_series(open.file, columns, run.history);
    H5::Group results = open.file.createGroup("results");
    for (const Quantity& one : quantities) {
      hdf5::write_number(results, one.key, one.value, {one.unit, one.words});
      if (!one.at) continue;
      hdf5::write_number(results, one.key + "_time", one.at->time, {"s", "when: " + one.words});
      hdf5::write_number(results, one.key + "_r", one.at->r, {"m", "radius of: " + one.words});
      hdf5::write_number(results, one.key + "_z", one.at->z, {"m", "height of: " + one.words});
    }
    write_texts(open.texts, texts);
    if (complete) hdf5::rewrite_integer_attribute(open.file, "complete", 1);
  });
}

std::string FieldFile::bytes() const {
  std::string image;
  guarded([&] {
    open_->file.flush(H5F_SCOPE_GLOBAL);
    image.resize(open_->image(nullptr, 0));
    open_->image(image.data(), image.size());
  });
  return image;
}

std::size_t FieldFile::size() const {
  std::size_t bytes = 0;
  guarded([&] { bytes = open_->image(nullptr, 0); });
  return bytes;
}

std::size_t FieldFile::frames() const { return static_cast<std::size_t>(open_->frames); }

}  // namespace tabmelt
