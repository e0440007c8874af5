#include "io/result/journal_driver.h"

#include <algorithm>
#include <iterator>
#include <limits>

namespace tabmelt {
namespace {

// What HDF5 passes from the access properties to open().
struct Target {
  JournaledFile* file;
};

// HDF5 sees only the first member.
struct Opened {
  H5FD_t common;
  JournaledFile* file;
  haddr_t end_of_allocation;
};

constexpr haddr_t largest_address = static_cast<haddr_t>(std::numeric_limits<std::int64_t>::max());

Opened* opened(H5FD_t* file) { return reinterpret_cast<Opened*>(file); }
const Opened* opened(const H5FD_t* file) { return reinterpret_cast<const Opened*>(file); }

// No exception may pass through the library.
template <typename Call>
herr_t status_of(Call call) noexcept {
  try {
    call();
    return 0;
  } catch (...) {
    return -1;
  }
}

H5FD_t* open(const char*, unsigned, hid_t access, haddr_t) {
  const auto* target = static_cast<const Target*>(H5Pget_driver_info(access));
  if (target == nullptr) return nullptr;
  auto* file = new (std::nothrow) Opened{};
  if (file == nullptr) return nullptr;
  file->file = target->file;
  return &file->common;
}

// Commits are the business of whoever owns the file.
herr_t close(H5FD_t* file) {
  delete opened(file);
  return 0;
}

herr_t query(const H5FD_t*, unsigned long* flags) {
  // As HDF5's own driver for plain files, but for its descriptor.
  *flags = H5FD_FEAT_AGGREGATE_METADATA | H5FD_FEAT_ACCUMULATE_METADATA | H5FD_FEAT_DATA_SIEVE |
           H5FD_FEAT_AGGREGATE_SMALLDATA | H5FD_FEAT_DEFAULT_VFD_COMPATIBLE;
  return 0;
}

haddr_t end_of_allocation(const H5FD_t* file, H5FD_mem_t) {
  return opened(file)->end_of_allocation;
}

herr_t set_end_of_allocation(H5FD_t* file, H5FD_mem_t, haddr_t address) {
  opened(file)->end_of_allocation = address;
  return 0;
}

haddr_t end_of_file(const H5FD_t* file, H5FD_mem_t) { return opened(file)->file->length(); }

herr_t read(H5FD_t* file, H5FD_mem_t, hid_t, haddr_t address, size_t count, void* bytes) {
  return status_of([&] { opened(file)->file->read(address, bytes, count); });
}

herr_t write(H5FD_t* file, H5FD_mem_t, hid_t, haddr_t address, size_t count, const void* bytes) {
  return status_of([&] { opened(file)->file->write(address, bytes, count); });
}

herr_t truncate(H5FD_t* file, hid_t, hbool_t) {
  return status_of([&] { opened(file)->file->resize(opened(file)->end_of_allocation); });
}

// The file is locked from its creation until it is closed.
herr_t lock(H5FD_t*, hbool_t) { return 0; }
herr_t unlock(H5FD_t*) { return 0; }

H5FD_class_t driver() {
  H5FD_class_t type{};
  type.name = "tabmelt_journal";
  type.maxaddr = largest_address;
  type.fc_degree = H5F_CLOSE_STRONG;
  type.fapl_size = sizeof(Target);
  type.open = open;
  type.close = close;
  type.query = query;
  type.get_eoa = end_of_allocation;
  type.set_eoa = set_end_of_allocation;
  type.get_eof = end_of_file;
  type.read = read;
  type.write = write;
  type.truncate = truncate;
  type.lock = lock;
  type.unlock = unlock;
  constexpr H5FD_mem_t kinds[] = H5FD_FLMAP_DICHOTOMY;
  std::copy(std::begin(kinds), std::end(kinds), std::begin(type.fl_map));
  return type;
}

}  // namespace

H5::FileAccPropList access_through(JournaledFile& file) {
  static const H5FD_class_t type = driver();
  static const hid_t id = H5FDregister(&type);
  H5::FileAccPropList access;
  access.setFcloseDegree(H5F_CLOSE_STRONG);
  const Target target{&file};
  if (H5Pset_driver(access.getId(), id, &target) < 0) {
    throw H5::PropListIException("H5Pset_driver", "failed");
  }
  return access;
}

}  // namespace tabmelt
