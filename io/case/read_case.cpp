#include "io/case/read_case.h"

#include <fmt/format.h>

#include "io/case/complaint_log.h"
#include "io/case/overrides.h"

namespace tabmelt {
namespace {

constexpr std::uintmax_t largest_case = 1'000'000;  // [bytes]

}  // namespace

void require_case_size(const std::string& text, const std::filesystem::path& named) {
  if (text.size() > largest_case)
    throw InputError({Complaint{
        named.string(), 0, "",
        fmt::format("has {} bytes; allowed are at most {}", text.size(), largest_case)}});
}

std::string case_file_text(const std::filesystem::path& file) {
  return text_of(file, largest_case);
}

Case read_case_text(const std::string& text, const std::filesystem::path& named) {
  return read_case_text(text, named, {});
}

Case read_case(const std::filesystem::path& file) {
  return read_case_text(case_file_text(file), file);
}

}  // namespace tabmelt
