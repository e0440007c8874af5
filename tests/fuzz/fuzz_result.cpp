// A result file with bytes changed: it is refused, or all of it can be read; unchanged it is read.
// The input is a list of changes to a sound file: four bytes of where, one of how many, then the
// new bytes; a count of 0 cuts the file there.
#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "io/store/hdf5_datasets.h"
#include "io/store/hdf5_section.h"
#include "io/store/result_reader.h"
#include "tests/fuzz/reading_helper.h"
#include "tests/unit/result/sample_run.h"

namespace {

// A run's file with a few of its many curves and numbers: they are all read alike, and what is
// small is read often.
std::string small_file(const std::string& whole, const std::string& small) {
  const tabmelt::Hdf5Section section;
  const H5::H5File from(whole, H5F_ACC_RDONLY);
  {
    H5::H5File to(small, H5F_ACC_TRUNC);
    for (const char* name : {"schema_name", "program_version", "title"}) {
      const H5::Attribute attribute = from.openAttribute(name);
      std::string text;
      attribute.read(attribute.getStrType(), text);
      tabmelt::hdf5::write_text_attribute(to, name, text);
    }
    for (const char* name : {"schema_version", "complete"}) {
      std::int64_t value = 0;
      from.openAttribute(name).read(H5::PredType::NATIVE_INT64, &value);
      tabmelt::hdf5::write_integer_attribute(to, name, value);
    }
    const auto copy = [&](const std::string& name) {
      if (H5Ocopy(from.getId(), name.c_str(), to.getId(), name.c_str(), H5P_DEFAULT, H5P_DEFAULT) <
          0)
        std::abort();
    };
    for (const char* group : {"mesh", "texts", "VTKHDF"}) copy(group);
    for (const std::string group : {"series", "results"}) {
      to.createGroup(group);
      const H5::Group all = from.openGroup(group);
      for (hsize_t n = 0; n < 3; ++n) copy(group + "/" + all.getObjnameByIdx(n));
    }
  }
  return tabmelt::sample::file_text(small);
}

const std::string& sound_file() {
  static const std::string bytes = [] {
    const tabmelt::sample::Folder folder;
    return small_file(tabmelt::sample::write(folder / "run"), folder / "small");
  }();
  return bytes;
}

std::string changed(std::string file, const std::uint8_t* data, std::size_t size) {
  while (size >= 5 && !file.empty()) {
    std::size_t where = 0;
    for (int n = 0; n < 4; ++n) where = where << 8 | data[n];
    where %= file.size();
    const std::size_t count = std::min<std::size_t>(data[4] % 17, size - 5);
    if (data[4] % 17 == 0) file.resize(where);
    for (std::size_t n = 0; n < count && where + n < file.size(); ++n)
      file[where + n] = static_cast<char>(data[5 + n]);
    data += 5 + count;
    size -= 5 + count;
  }
  return file;
}

// HDF5 opens no file that has no name.
const std::string& path() {
  static const tabmelt::sample::Folder folder;
  static const std::string name = folder / "result";
  return name;
}

int file() {
  static const int opened = ::open(path().c_str(), O_CREAT | O_RDWR | O_CLOEXEC, 0600);
  if (opened < 0) std::abort();
  return opened;
}

void read_all(bool sound) {
  try {
    const tabmelt::StoredRun run = tabmelt::read_result_file(path());
    for (std::size_t k = 0; k < run.frame_times.size(); ++k)
      for (const float T : run.frame(k).temperature)
        if (!std::isfinite(T)) std::abort();
    for (const float T : run.history(&tabmelt::Frame::temperature, 0))
      if (!std::isfinite(T)) std::abort();
  } catch (const tabmelt::ResultFileError& error) {
    if (sound || std::string(error.what()).rfind(path(), 0) != 0) std::abort();
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string bytes = changed(sound_file(), data, size);
  if (::ftruncate(file(), 0) != 0 ||
      ::pwrite(file(), bytes.data(), bytes.size(), 0) != static_cast<::ssize_t>(bytes.size()))
    std::abort();
  const bool sound = bytes == sound_file();
#ifdef TABMELT_FUZZ
  read_in_helper(read_all, sound);
#else
  read_all(sound);
#endif
  return 0;
}
