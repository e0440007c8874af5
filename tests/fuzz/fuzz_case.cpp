// Case text: whatever it holds, reading ends with a sound case or with complaints.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <string>

#include "io/case/read_case.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  // Beside the shipped materials, so that their names are known.
  static const std::filesystem::path named =
      std::filesystem::path(TABMELT_SOURCE_DIR) / "cases" / "fuzz.toml";
  const std::string text(reinterpret_cast<const char*>(data), size);
  try {
    const tabmelt::Case read = tabmelt::read_case_text(text, named);
    if (!tabmelt::complaints(read.problem).empty()) std::abort();
    // The complete text is complete: reading it adds nothing more.
    const std::string whole = tabmelt::read_case_text(read.full_text, named).full_text;
    if (tabmelt::read_case_text(whole, named).full_text != whole) std::abort();
  } catch (const tabmelt::InputError& error) {
    if (error.complaints().empty()) std::abort();
  }
  return 0;
}
