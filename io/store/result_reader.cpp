#include "io/store/result_reader.h"

#include <H5Cpp.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <memory>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <vector>

#include "io/store/checked_file.h"
#include "io/store/field_file.h"
#include "io/store/findings_text.h"
#include "io/store/hdf5_section.h"
#include "io/store/reading_process.h"
#include "solver/words/printable.h"

namespace tabmelt {

NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Part, name, role)

// What a run holds but its frames, from the process that reads it to the one that asked.
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(StoredRun, program_version, title, complete, r_edges, z_edges,
                                   region, parts, frame_times, peak_temperature,
                                   peak_liquid_fraction, series, scalars, words, texts)

namespace {

namespace fs = std::filesystem;
using hdf5::CheckedFile;

[[noreturn]] void refuse_file(const fs::path& file, const std::string& wrong) {
  throw ResultFileError(file.string() + ": " + wrong);
}

[[noreturn]] void damaged(const std::string& reason) {
  throw ReadingError("damaged result file (" + reason + ")");
}

[[noreturn]] void explain_refusal(const std::string& reason) {
  const auto says = [&](const char* words) { return reason.find(words) != std::string::npos; };
  if (says("truncated")) {
    throw ReadingError("the file is truncated: its end is missing (" + reason + ")");
  }
  if (says("signature not found")) throw ReadingError("not a result file: not HDF5");
  throw ReadingError("cannot be opened (" + reason + ")");
}

void check_schema(const CheckedFile& file) {
  if (!file.has_attribute("/", "schema_name") ||
      file.text_attribute("/", "schema_name") != result_schema_name) {
    throw ReadingError("HDF5, but not a tabmelt result");
  }
  const std::int64_t version = file.integer("/", "schema_version");
  if (version == result_schema_version) return;
  const std::string program = file.text_attribute("/", "program_version");
  throw ReadingError("written by " +
                     std::string(version > result_schema_version ? "a newer" : "an older") +
                     " program (" + program + "): layout " + std::to_string(version) +
                     ", this program reads " + std::to_string(result_schema_version));
}

std::string field_path(const std::string& name) { return "VTKHDF/CellData/" + name; }

// What pictures show in a line; they would draw a book for minutes.
std::string line(const std::string& stored) {
  const std::string text = printable(stored);
  constexpr std::size_t longest = 500;
  if (text.size() <= longest) return text;
  std::size_t end = longest;
  while (end > 0 && (text[end] & 0xC0) == 0x80) --end;  // no half of a character (UTF-8)
  return text.substr(0, end) + "...";
}

std::vector<float> peak_field(const CheckedFile& file, const std::string& name) {
  const std::string path = field_path(name);
  return file.integer(path, "filled") == 0 ? std::vector<float>() : file.list<float>(path);
}

std::vector<Part> parts_of(const std::vector<std::string>& names,
                           const std::vector<std::string>& roles) {
  if (names.size() != roles.size()) damaged("names and roles of the regions differ in number");
  std::vector<Part> parts;
  for (std::size_t n = 0; n < names.size(); ++n) {
    Role role = Role::empty;
    for (const Role one : {Role::electrode, Role::strip, Role::can, Role::layer})
      if (roles[n] == word_of(one)) role = one;
    parts.push_back({line(names[n]), role});
  }
  return parts;
}

StoredRun contents(const CheckedFile& file) {
  check_schema(file);
  StoredRun run;
  run.program_version = file.text_attribute("/", "program_version");
  run.title = line(file.text_attribute("/", "title"));
  run.complete = file.integer("/", "complete") != 0;
  if (!file.has("VTKHDF") || !file.has("VTKHDF/Steps")) throw ReadingError("holds no frames");
  run.r_edges = file.list<double>("mesh/r_edges");
  run.z_edges = file.list<double>("mesh/z_edges");
  run.region = file.list<std::uint8_t>(field_path("region_id"));
  if (file.has("mesh/region_names") && file.has("mesh/region_roles"))
    run.parts = parts_of(file.texts("mesh/region_names"), file.texts("mesh/region_roles"));
  run.frame_times = file.list<double>("VTKHDF/Steps/Values");
  if (file.integer("VTKHDF/Steps", "NSteps") == 0) throw ReadingError("holds no frames");
  if (file.integer("VTKHDF/Steps", "NSteps") != std::ssize(run.frame_times)) {
    damaged("NSteps is not the number of frames");
  }
  const std::size_t cells = run.region.size(), frames = run.frame_times.size();
  for (const FieldArray& array : field_arrays()) {
    file.rows(field_path(array.name), frames * cells, array.components, 0, 0);
  }
  run.peak_temperature = peak_field(file, "peak_temperature");
  run.peak_liquid_fraction = peak_field(file, "peak_liquid_fraction");
  for (const auto& name : file.names("series")) {
    run.series[name] = file.list<double>("series/" + name);
  }
  for (const auto& name : file.names("results")) {
    run.scalars[name] = file.number("results/" + name);
    if (file.has_attribute("results/" + name, "long_name"))
      run.words[name] = line(file.text_attribute("results/" + name, "long_name"));
  }
  for (const auto& name : file.names("texts")) run.texts[name] = file.text("texts/" + name);
  for (const char* name : {"title", "verdict"}) {
    if (run.texts.count(name)) run.texts[name] = line(run.texts[name]);
  }
  return run;
}

std::string packed(const std::vector<float>& values) {
  return {reinterpret_cast<const char*>(values.data()), values.size() * sizeof(float)};
}

// What reads the file, in a process of its own.
class Inside {
 public:
  explicit Inside(const fs::path& path) : path_(path) {}

  // The answer in bytes: contents as CBOR, fields as they lie in memory.
  std::string read(const ReadingProcess::Request& request) {
    const Hdf5Section section;
    try {
      if (file_.getId() <= 0) file_.openFile(path_.string(), H5F_ACC_RDONLY);
    } catch (const H5::Exception&) {
      explain_refusal(section.reason());
    }
    try {
      return answer(CheckedFile(file_), request);
    } catch (const H5::Exception& failure) {
      damaged(section.reason().empty() ? failure.getDetailMsg() : section.reason());
    } catch (const hdf5::Damaged& failure) {
      damaged(failure.what());
    }
  }

 private:
  std::string answer(const CheckedFile& file, const ReadingProcess::Request& request) {
    std::string bytes;
    if (request.what == ReadingProcess::Request::contents) {
      const StoredRun run = contents(file);
      cells_ = run.region.size();
      frames_ = run.frame_times.size();
      nlohmann::json::to_cbor(nlohmann::json(run), bytes);
    } else if (request.what == ReadingProcess::Request::frame) {
      for (const FieldArray& array : field_arrays()) {
        bytes += packed(file.rows(field_path(array.name), frames_ * cells_, array.components,
                                  request.number * cells_, cells_));
      }
    } else {
      // One cell out of each frame: HDF5 unpacks one chunk, a frame of this field, at a time.
      const FieldArray& array = field_arrays().at(request.field);
      bytes = packed(file.rows(field_path(array.name), frames_ * cells_, array.components,
                               request.number, frames_, cells_));
    }
    return bytes;
  }

  fs::path path_;
  H5::H5File file_;
  std::size_t cells_ = 0, frames_ = 0;
};

// Pictures divide by ranges of what is drawn, which may then not be infinite.
constexpr double largest_value = 1e20;

template <typename Number>
void require_sensible(const std::string& what, const std::vector<Number>& values) {
  const auto sensible = [](Number value) { return std::abs(value) <= largest_value; };
  if (!std::all_of(values.begin(), values.end(), sensible)) {
    damaged(what + ": values that are no number or beyond all measure");
  }
}

void require_rising(const std::string& what, const std::vector<double>& values) {
  require_sensible(what, values);
  const auto falls = std::adjacent_find(values.begin(), values.end(), std::greater_equal<>());
  if (falls != values.end()) damaged(what + ": do not rise");
}

void require_a_whole(const StoredRun& run) {
  const std::size_t cells = run.region.size();
  require_rising("r_edges", run.r_edges);
  require_rising("z_edges", run.z_edges);
  require_sensible("times of frames", run.frame_times);
  if (!std::is_sorted(run.frame_times.begin(), run.frame_times.end())) {
    damaged("times of frames: do not rise");
  }
  if (run.r_edges.size() < 2 || run.z_edges.size() < 2 ||
      cells != (run.r_edges.size() - 1) * (run.z_edges.size() - 1)) {
    damaged("mesh and regions do not fit");
  }
  if (*std::max_element(run.region.begin(), run.region.end()) >= run.parts.size()) {
    damaged("a region has no name and role");
  }
  for (const auto* peak : {&run.peak_temperature, &run.peak_liquid_fraction}) {
    if (!peak->empty() && peak->size() != cells) damaged("peak fields do not fit the mesh");
    require_sensible("peak fields", *peak);
  }
  for (const auto& [name, values] : run.series) {
    if (values.size() != run.series.begin()->second.size()) damaged(name + ": of another length");
  }
}

// Takes so many numbers off the front.
std::vector<float> unpacked(std::string_view& bytes, const std::string& name, std::size_t count) {
  std::vector<float> values(count);
  if (bytes.size() < count * sizeof(float)) damaged(name + ": too short");
  std::memcpy(values.data(), bytes.data(), count * sizeof(float));
  bytes.remove_prefix(count * sizeof(float));
  require_sensible(name, values);
  return values;
}

// What goes wrong inside the call names the file.
template <typename Call>
auto naming(const fs::path& path, Call call) {
  try {
    return call();
  } catch (const ReadingError& failure) {
    refuse_file(path, failure.what());
  } catch (const nlohmann::json::exception& failure) {
    refuse_file(path, failure.what());
  }
}

// The process that reads one file, and what its answers mean.
class StoredFile {
 public:
  explicit StoredFile(const fs::path& path) : path_(path) {
    std::error_code error;
    if (!fs::exists(path, error)) refuse_file(path, error ? error.message() : "no such file");
    if (!fs::is_regular_file(path, error)) refuse_file(path, "not a file");
    // Held while the process divides, so that HDF5 is at rest.
    auto section = std::make_shared<Hdf5Section>();
    auto inside = std::make_shared<Inside>(path);
    naming(path_, [&] {
      process_ = std::make_unique<ReadingProcess>(
          fs::file_size(path, error),
          [section = std::move(section), inside](const ReadingProcess::Request& request) mutable {
            section.reset();
            return inside->read(request);
          });
    });
  }

  StoredRun contents() {
    return naming(path_, [&] {
      auto run = nlohmann::json::from_cbor(process_->answer({})).get<StoredRun>();
      require_a_whole(run);
      cells_ = run.region.size();
      times_ = run.frame_times;
      return run;
    });
  }

  Frame frame(std::size_t index) {
    Frame frame;
    frame.time = times_.at(index);
    return naming(path_, [&] {
      const std::string answer = process_->answer({ReadingProcess::Request::frame, 0, index});
      std::string_view rest = answer;
      for (const FieldArray& array : field_arrays()) {
        frame.*array.values = unpacked(rest, array.name, cells_ * array.components);
      }
      return frame;
    });
  }

  std::vector<float> history(FrameField field, std::size_t cell) {
    if (cell >= cells_) throw std::out_of_range("no such cell");
    std::uint32_t n = 0;
    while (field_arrays().at(n).values != field) ++n;
    return naming(path_, [&] {
      const std::string answer = process_->answer({ReadingProcess::Request::history, n, cell});
      std::string_view rest = answer;
      return unpacked(rest, field_arrays()[n].name, times_.size() * field_arrays()[n].components);
    });
  }

 private:
  fs::path path_;
  std::unique_ptr<ReadingProcess> process_;
  std::size_t cells_ = 0;
  std::vector<double> times_;
};

}  // namespace

StoredRun read_result_file(const fs::path& path) {
  const auto file = std::make_shared<StoredFile>(path);
  StoredRun run = file->contents();
  run.path = path.string();
  if (run.texts.count("findings")) run.findings = findings_in(run.texts.at("findings"));
  run.frame = [file](std::size_t index) { return file->frame(index); };
  run.history = [file](FrameField field, std::size_t cell) { return file->history(field, cell); };
  return run;
}

}  // namespace tabmelt
