// report.html: the report of one run as a page that can be sent around, with the pictures inside.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "io/report/document.h"

namespace tabmelt::report {

// The page without pictures; it says how to draw them.
std::string html_report(const Document&);

// Puts pictures (PNG files) into a page made by html_report(), each in place of the one of its
// name; others that the page has stay. A file that cannot be read is left out. Returns the page
// unchanged if it has no place for pictures.
std::string with_pictures(const std::string& page, const std::vector<std::filesystem::path>& files);

// The same on a file, such as report.html beside a result. Empty on success or if there is no such
// file or no place in it, else the reason in words.
std::string failure_to_put_pictures(const std::filesystem::path& page,
                                    const std::vector<std::filesystem::path>& files);

// RFC 4648, section 4, with padding.
std::string base64(const std::string& bytes);

}  // namespace tabmelt::report
