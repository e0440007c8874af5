#include "io/store/hdf5_section.h"

#include <H5Epublic.h>

namespace tabmelt {
namespace {

std::mutex& library_mutex() {
  static std::mutex mutex;
  return mutex;
}

// Guarded by library_mutex().
std::string& first_failure() {
  static std::string words;
  return words;
}

// "..., errno = 28, error message = 'No space left on device', ..." -> the quoted part.
std::string operating_system_message(const std::string& description) {
  const std::string mark = "error message = '";
  const auto start = description.find(mark);
  if (start == std::string::npos) return {};
  const auto from = start + mark.size();
  return description.substr(from, description.find('\'', from) - from);
}

struct Found {
  std::string system;     // what the operating system said
  std::string innermost;  // what HDF5 said where it happened
};

herr_t look_at(unsigned depth, const H5E_error2_t* entry, void* data) {
  auto& found = *static_cast<Found*>(data);
  const std::string description = entry->desc ? entry->desc : "";
  if (depth == 0) found.innermost = description;
  if (found.system.empty()) found.system = operating_system_message(description);
  return 0;
}

// Called by HDF5 where a call fails. The stack must be read here: the clean-up calls made while
// a C++ exception travels clear it.
herr_t remember(hid_t stack, void*) {
  if (!first_failure().empty()) return 0;
  Found found;
  H5Ewalk2(stack, H5E_WALK_UPWARD, look_at, &found);
  first_failure() = found.system.empty() ? found.innermost : found.system;
  return 0;
}

}  // namespace

Hdf5Section::Hdf5Section() : lock_(library_mutex()) {
  H5Eset_auto2(H5E_DEFAULT, remember, nullptr);
  first_failure().clear();
}

std::string Hdf5Section::reason() const { return first_failure(); }

}  // namespace tabmelt
