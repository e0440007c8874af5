// A vector whose numbers begin at a cache line, so that no register of a panel's row straddles two.
#pragma once

#include <cstddef>
#include <new>
#include <vector>

namespace tabmelt {

template <typename R>
struct CacheLineAllocator {
  using value_type = R;
  static constexpr std::align_val_t line{64};

  CacheLineAllocator() = default;
  template <typename Other>
  explicit CacheLineAllocator(const CacheLineAllocator<Other>&) {}
  R* allocate(std::size_t n) { return static_cast<R*>(::operator new(n * sizeof(R), line)); }
  void deallocate(R* at, std::size_t) noexcept { ::operator delete(at, line); }
  bool operator==(const CacheLineAllocator&) const = default;
};

template <typename R>
using AlignedVector = std::vector<R, CacheLineAllocator<R>>;

}  // namespace tabmelt
