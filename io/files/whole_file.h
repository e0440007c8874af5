// Files that are there as a whole or not at all. Each function returns nothing on success, else the
// reason in words ("No space left on device").
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace tabmelt {

// Creates the file, which must not exist, and flushes it to the disk. A link of that name counts as
// a file and is not followed. Nothing is left after a failure.
std::optional<std::string> failure_to_create(const std::filesystem::path& file,
                                             std::string_view bytes);

// Gives the file new content, which is written beside it (`.tmp` appended) and renamed into place:
// whoever looks, and whatever ends the process, finds the old content or the new.
std::optional<std::string> failure_to_replace(const std::filesystem::path& file,
                                              std::string_view bytes);

// Renames within a folder; never replaces anything.
std::optional<std::string> failure_to_rename(const std::filesystem::path& from,
                                             const std::filesystem::path& to);

}  // namespace tabmelt
