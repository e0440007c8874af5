// Dotted keys and headings of a TOML text, counted before it is parsed: the parser and whoever
// walks its tables go one call deeper for each part.
#pragma once

#include <string_view>

namespace tabmelt {

inline constexpr int most_key_parts = 64;

// The first line (from 1) with a key of more parts than that; 0: none. What stands in quotes or
// comments does not count.
int line_of_too_deep_key(std::string_view text);

}  // namespace tabmelt
