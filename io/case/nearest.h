// The known word closest to a misspelt one.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace tabmelt {

// Fewest insertions, deletions, replacements and swaps of neighbours that turn one word into the
// other (optimal string alignment); upper and lower case, '-' and '_' count as the same.
std::size_t edit_distance(const std::string&, const std::string&);

// The closest of the known words if it is close enough to be meant.
std::optional<std::string> nearest(const std::string& word, const std::vector<std::string>& known);

}  // namespace tabmelt
