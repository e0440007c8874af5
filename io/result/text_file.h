// A whole text into a file, with every failure noticed.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace tabmelt {

// Empty on success, else the reason in words ("No space left on device"); nothing is left then.
std::optional<std::string> failure_to_write(const std::filesystem::path& file,
                                            const std::string& text);

}  // namespace tabmelt
