// A table of a measured current: it is refused without a word of what stands in it, or its times
// rise and every number is finite.
#include <sys/mman.h>
#include <unistd.h>

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "io/case/current_trace.h"

namespace {

void require_sense(const tabmelt::circuit::TableCurrent& trace) {
  if (trace.time.size() < 2 || trace.time.size() != trace.current.size()) std::abort();
  for (std::size_t n = 0; n < trace.time.size(); ++n) {
    if (!std::isfinite(trace.time[n]) || !std::isfinite(trace.current[n])) std::abort();
    if (n > 0 && trace.time[n] <= trace.time[n - 1]) std::abort();
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const int file = ::memfd_create("trace", MFD_CLOEXEC);
  static const std::string path = "/proc/self/fd/" + std::to_string(file);
  if (file < 0 || ::ftruncate(file, 0) != 0 ||
      ::pwrite(file, data, size, 0) != static_cast<::ssize_t>(size))
    std::abort();
  tabmelt::ComplaintLog log;
  try {
    const auto trace = tabmelt::current_trace(path, log);
    log.throw_if_any();
    require_sense(trace);
  } catch (const tabmelt::InputError& error) {
    if (error.complaints().empty()) std::abort();
    for (const tabmelt::Complaint& complaint : error.complaints())
      if (!complaint.excerpt.empty()) std::abort();
  }
  return 0;
}
