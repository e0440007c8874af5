// One group of HDF5 calls. The library is not built for threads, and several runs may write side
// by side in one process, so every call happens inside a section: one mutex for the process, held
// for the group of calls and not for the run. HDF5's own error printing is off; what went wrong
// is kept in words instead.
#pragma once

#include <mutex>
#include <string>

namespace tabmelt {

class Hdf5Section {
 public:
  Hdf5Section();
  Hdf5Section(const Hdf5Section&) = delete;
  Hdf5Section& operator=(const Hdf5Section&) = delete;

  // Why the first failing call of this section failed, innermost cause first
  // ("No space left on device"); empty if none did.
  std::string reason() const;

 private:
  std::lock_guard<std::mutex> lock_;
};

}  // namespace tabmelt
