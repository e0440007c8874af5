// Region numbers of a weld's grid. Inner layer n is inner_first + n.
#pragma once

#include <cstdint>

namespace tabmelt::region {
inline constexpr std::uint8_t empty = 0, electrode = 1, strip = 2, can = 3, inner_first = 4;
}
