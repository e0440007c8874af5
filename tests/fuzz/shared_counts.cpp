// Result files are read in a process that is divided off. What clang counts there for libFuzzer
// comes back through shared memory. This file itself is not counted: clang would take the names
// below for its own and count nothing at all.
#include <sys/mman.h>
#include <unistd.h>

#include <cstdint>

// Names given by the linker.
extern "C" std::uint8_t __start___sancov_cntrs[], __stop___sancov_cntrs[];

extern "C" int LLVMFuzzerInitialize(int*, char***) {
  const auto page = static_cast<std::uintptr_t>(::sysconf(_SC_PAGESIZE));
  const auto first = (reinterpret_cast<std::uintptr_t>(__start___sancov_cntrs) + page - 1) / page;
  const auto last = reinterpret_cast<std::uintptr_t>(__stop___sancov_cntrs) / page;
  if (first >= last) return 1;
  void* const from = reinterpret_cast<void*>(first * page);
  const void* const now = ::mmap(from, (last - first) * page, PROT_READ | PROT_WRITE,
                                 MAP_SHARED | MAP_ANONYMOUS | MAP_FIXED, -1, 0);
  return now == from ? 0 : 1;
}
