#pragma once

#include <cstddef>
#include <cstdint>

namespace tabmelt {

// Reads up to `count` bytes of an open file from `offset` on, however many calls that takes.
// Returns how many there were: fewer at the end of the file and where it cannot be read.
std::size_t read_bytes(int descriptor, std::uint64_t offset, void* bytes, std::size_t count);

}  // namespace tabmelt
