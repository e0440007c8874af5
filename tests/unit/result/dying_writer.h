// A process that dies in the middle of its writing: at a write chosen beforehand, with all or half
// of its bytes on the disk. Stands in for a kill at the worst moment, which a kill at a random one
// hardly ever meets.
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>

namespace tabmelt::sample {

enum class LastWrite { half, whole };

// From now on this process counts its calls of pwrite() and ends itself with SIGKILL in the given
// one, counted from 0.
void die_in_write(std::size_t number, LastWrite how);

// From now on this process's calls of pwrite() from the given one on, counted from 0, fail with
// ENOSPC, as on a disk that is full; until the object is gone.
class FullFrom {
 public:
  explicit FullFrom(std::size_t number);
  ~FullFrom();
  FullFrom(const FullFrom&) = delete;
  FullFrom& operator=(const FullFrom&) = delete;
};

// Lets children do `write`, each dying one call of pwrite() later than the one before, until one of
// them gets through. After each death `examine` sees a copy of the file, which nobody has locked,
// and the file is put back as it was. Returns the number of children that died.
std::size_t die_in_each_write(const std::filesystem::path& file, LastWrite how,
                              const std::function<void()>& write,
                              const std::function<void(const std::filesystem::path&)>& examine);

}  // namespace tabmelt::sample
