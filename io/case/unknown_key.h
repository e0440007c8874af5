// What to say about a key that is not in the list.
#pragma once

#include <string>

namespace tabmelt {

// `section`: the table it stands in, empty at the top of the file.
std::string unknown_key(const std::string& path, const std::string& section);

}  // namespace tabmelt
