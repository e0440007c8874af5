#include "io/result/result_reader.h"

#include <H5Cpp.h>

#include <algorithm>
#include <functional>
#include <new>
#include <stdexcept>
#include <vector>

#include "io/result/field_file.h"
#include "io/result/hdf5_datasets.h"
#include "io/result/hdf5_section.h"
#include "io/result/journal_driver.h"
#include "io/result/journaled_file.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const fs::path& file, const std::string& wrong) {
  throw ResultFileError(file.string() + ": " + wrong);
}

[[noreturn]] void explain_refusal(const fs::path& file, const std::string& reason) {
  const auto says = [&](const char* words) { return reason.find(words) != std::string::npos; };
  if (says("truncated")) fail(file, "the file is truncated: its end is missing (" + reason + ")");
  if (says("signature not found")) fail(file, "not a result file: not HDF5");
  // The lock a writer holds.
  if (says("temporarily unavailable")) fail(file, "in use: a run is still writing it");
  fail(file, "cannot be opened (" + reason + ")");
}

// Opens the file for one group of HDF5 calls, and closes it.
template <typename Calls>
auto reading(const fs::path& path, Calls calls) {
  std::error_code error;
  if (!fs::exists(path, error)) fail(path, error ? error.message() : "no such file");
  if (!fs::is_regular_file(path, error)) fail(path, "not a file");
  Hdf5Section section;
  JournaledFile unfinished;  // outlives the file of HDF5
  H5::H5File file;
  try {
    const bool carried_out = unfinished.open_unfinished(path);
    file.openFile(path.string(), H5F_ACC_RDONLY,
                  carried_out ? access_through(unfinished) : H5::FileAccPropList::DEFAULT);
  } catch (const H5::Exception&) {
    explain_refusal(path, section.reason());
  }
  std::string reason;
  try {
    return calls(file);
  } catch (const H5::Exception& failure) {
    reason = section.reason().empty() ? failure.getDetailMsg() : section.reason();
  } catch (const std::length_error&) {
    reason = "impossible size of an array";
  } catch (const std::bad_alloc&) {
    reason = "impossible size of an array";
  }
  fail(path, "damaged result file (" + reason + ")");
}

std::string text_attribute(const H5::H5Object& owner, const std::string& name) {
  if (!owner.attrExists(name)) return {};
  const H5::Attribute attribute = owner.openAttribute(name);
  if (attribute.getTypeClass() != H5T_STRING) return {};
  std::string text;
  attribute.read(attribute.getStrType(), text);
  return text;
}

std::int64_t integer_attribute(const H5::H5Object& owner, const std::string& name) {
  std::int64_t value = 0;
  if (owner.attrExists(name)) owner.openAttribute(name).read(H5::PredType::NATIVE_INT64, &value);
  return value;
}

hsize_t rows(const H5::DataSet& dataset) {
  const H5::DataSpace space = dataset.getSpace();
  std::vector<hsize_t> shape(static_cast<std::size_t>(space.getSimpleExtentNdims()), 0);
  if (shape.empty()) return 0;
  space.getSimpleExtentDims(shape.data());
  return shape[0];
}

template <typename Number>
std::vector<Number> whole(const H5::DataSet& dataset) {
  std::vector<Number> values(static_cast<std::size_t>(dataset.getSpace().getSimpleExtentNpoints()));
  if (!values.empty()) dataset.read(values.data(), hdf5::memory_type<Number>());
  return values;
}

std::vector<std::string> text_list(const H5::DataSet& dataset) {
  std::vector<char*> raw(rows(dataset), nullptr);
  const H5::StrType type = dataset.getStrType();
  dataset.read(raw.data(), type);
  std::vector<std::string> texts;
  for (const char* text : raw) texts.emplace_back(text ? text : "");
  H5::DataSet::vlenReclaim(raw.data(), type, dataset.getSpace());
  return texts;
}

void for_each_dataset(const H5::Group& root, const std::string& name,
                      const std::function<void(const std::string&, const H5::DataSet&)>& visit) {
  if (!root.nameExists(name)) return;
  const H5::Group group = root.openGroup(name);
  for (hsize_t n = 0; n < group.getNumObjs(); ++n) {
    const std::string member = group.getObjnameByIdx(n);
    if (group.childObjType(member) == H5O_TYPE_DATASET) visit(member, group.openDataSet(member));
  }
}

void check_schema(const fs::path& path, const H5::H5File& file) {
  if (text_attribute(file, "schema_name") != result_schema_name) {
    fail(path, "HDF5, but not a tabmelt result");
  }
  const std::int64_t version = integer_attribute(file, "schema_version");
  if (version > result_schema_version) {
    fail(path, "written by a newer program (" + text_attribute(file, "program_version") +
                   "): layout " + std::to_string(version) + ", this program reads up to " +
                   std::to_string(result_schema_version));
  }
  if (!file.attrExists("schema_version")) fail(path, "damaged result file (no schema_version)");
  if (version < 1) {
    fail(path, "written by an older program (" + text_attribute(file, "program_version") +
                   "): layout " + std::to_string(version) + ", this program reads from 1 on");
  }
}

// Frames for which every list and array has its entry.
std::size_t frames_present(const H5::H5File& file, std::size_t cells) {
  const H5::Group steps = file.openGroup("VTKHDF/Steps");
  hsize_t frames =
      static_cast<hsize_t>(std::max<std::int64_t>(0, integer_attribute(steps, "NSteps")));
  frames = std::min(frames, rows(steps.openDataSet("Values")));
  for (const FieldArray& array : field_arrays()) {
    const hsize_t length = rows(file.openDataSet(std::string("VTKHDF/CellData/") + array.name));
    frames = std::min(frames, length / cells);
  }
  return static_cast<std::size_t>(frames);
}

Frame stored_frame(const H5::H5File& file, std::size_t index, std::size_t cells, double time) {
  Frame frame;
  frame.time = time;
  for (const FieldArray& array : field_arrays()) {
    const H5::DataSet dataset = file.openDataSet(std::string("VTKHDF/CellData/") + array.name);
    const H5::DataSpace space = dataset.getSpace();
    hdf5::Shape start{index * cells, 0}, count{cells, array.components};
    space.selectHyperslab(H5S_SELECT_SET, count.data(), start.data());
    std::vector<float>& values = frame.*array.values;
    values.resize(cells * array.components);
    dataset.read(values.data(), H5::PredType::NATIVE_FLOAT,
                 H5::DataSpace(array.components > 1 ? 2 : 1, count.data()), space);
  }
  return frame;
}

// A strided slab: one cell out of each frame. HDF5 unpacks one chunk, a frame of this field, at a
// time.
std::vector<float> stored_history(const H5::H5File& file, FrameField field, std::size_t cell,
                                  std::size_t cells, std::size_t frames) {
  for (const FieldArray& array : field_arrays()) {
    if (array.values != field) continue;
    const H5::DataSet dataset = file.openDataSet(std::string("VTKHDF/CellData/") + array.name);
    const H5::DataSpace space = dataset.getSpace();
    hdf5::Shape start{cell, 0}, stride{cells, 1}, count{frames, array.components};
    space.selectHyperslab(H5S_SELECT_SET, count.data(), start.data(), stride.data());
    std::vector<float> values(frames * array.components);
    dataset.read(values.data(), H5::PredType::NATIVE_FLOAT,
                 H5::DataSpace(array.components > 1 ? 2 : 1, count.data()), space);
    return values;
  }
  return {};
}

std::vector<float> peak_field(const H5::H5File& file, const std::string& name, std::size_t cells) {
  const H5::DataSet dataset = file.openDataSet("VTKHDF/CellData/" + name);
  if (integer_attribute(dataset, "filled") == 0) return {};
  std::vector<float> values = whole<float>(dataset);
  if (values.size() != cells) return {};
  return values;
}

void drop_undecodable_frames(const H5::H5File& file, std::size_t cells,
                             std::vector<double>& times) {
  while (!times.empty()) {
    try {
      stored_frame(file, times.size() - 1, cells, times.back());
      return;
    } catch (const H5::Exception&) {
      times.pop_back();
    }
  }
}

StoredRun contents(const fs::path& path, const H5::H5File& file) {
  StoredRun run;
  run.path = path.string();
  run.program_version = text_attribute(file, "program_version");
  run.title = text_attribute(file, "title");
  run.complete = integer_attribute(file, "complete") != 0;
  if (!file.nameExists("VTKHDF") || !file.nameExists("VTKHDF/Steps")) fail(path, "holds no frames");
  run.r_edges = whole<double>(file.openDataSet("mesh/r_edges"));
  run.z_edges = whole<double>(file.openDataSet("mesh/z_edges"));
  run.region = whole<std::uint8_t>(file.openDataSet("VTKHDF/CellData/region_id"));
  if (file.nameExists("mesh/region_names")) {
    run.region_names = text_list(file.openDataSet("mesh/region_names"));
  }
  const std::size_t cells = run.region.size();
  if (run.r_edges.size() < 2 || run.z_edges.size() < 2 ||
      cells != (run.r_edges.size() - 1) * (run.z_edges.size() - 1)) {
    fail(path, "damaged result file (mesh and regions do not fit)");
  }
  run.frame_times = whole<double>(file.openDataSet("VTKHDF/Steps/Values"));
  run.frame_times.resize(std::min(run.frame_times.size(), frames_present(file, cells)));
  if (!run.complete) drop_undecodable_frames(file, cells, run.frame_times);
  if (run.frame_times.empty()) fail(path, "holds no frames");
  run.peak_temperature = peak_field(file, "peak_temperature", cells);
  run.peak_liquid_fraction = peak_field(file, "peak_liquid_fraction", cells);
  for_each_dataset(file, "series", [&](const std::string& name, const H5::DataSet& dataset) {
    run.series[name] = whole<double>(dataset);
  });
  for_each_dataset(file, "results", [&](const std::string& name, const H5::DataSet& dataset) {
    dataset.read(&run.scalars[name], H5::PredType::NATIVE_DOUBLE);
  });
  for_each_dataset(file, "texts", [&](const std::string& name, const H5::DataSet& dataset) {
    dataset.read(run.texts[name], dataset.getStrType());
  });
  return run;
}

}  // namespace

StoredRun read_result_file(const fs::path& path) {
  StoredRun run = reading(path, [&](const H5::H5File& file) {
    check_schema(path, file);
    return contents(path, file);
  });
  const std::size_t cells = run.region.size();
  run.frame = [path, cells, times = run.frame_times](std::size_t index) {
    const double time = times.at(index);
    return reading(path,
                   [&](const H5::H5File& file) { return stored_frame(file, index, cells, time); });
  };
  run.history = [path, cells, frames = run.frame_times.size()](FrameField field, std::size_t cell) {
    if (cell >= cells) throw std::out_of_range("no such cell");
    return reading(path, [&](const H5::H5File& file) {
      return stored_history(file, field, cell, cells, frames);
    });
  };
  return run;
}

}  // namespace tabmelt
