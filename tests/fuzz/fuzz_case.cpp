// Case text: whatever it holds, reading ends with a sound case or with complaints.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <string>

#include "io/case/read_case.h"

#ifdef TABMELT_FUZZ
#include <fstream>
#include <set>
#include <vector>

#include "io/case/schema.h"

namespace {

// What a mutation may put in: keys, their last parts, words and defaults, as they stand in a case.
std::set<std::string> words_of_cases() {
  std::set<std::string> words{"[[layer]]\n", "[[strip]]\n", "[[conductor]]\n", "[[probe]]\n",
                              "[materials.", "spread.",     "plating",         "base = "};
  for (const tabmelt::Key* key : tabmelt::every_key()) {
    const std::string last = key->path.substr(key->path.rfind('.') + 1);
    const std::string& usual = key->standard.value;
    words.insert(
        {key->path + " = ", last + " = ", usual, "\"" + usual + "\"", " " + key->form.range.unit});
    for (const std::string& word : key->form.words) words.insert("\"" + word + "\"");
  }
  return words;
}

}  // namespace

// Gives the keys to libFuzzer as a dictionary, so that it need not guess them letter by letter.
extern "C" int LLVMFuzzerInitialize(int* count, char*** arguments) {
  static const std::string file = TABMELT_BINARY_DIR "/case.dict";
  static std::string option = "-dict=" + file;
  std::ofstream out(file);
  constexpr std::size_t longest = 64;  // that libFuzzer takes
  for (const std::string& word : words_of_cases()) {
    if (word.size() < 2 || word.size() > longest) continue;
    out << '"';
    for (const char c : word) {
      const bool plain = c >= 0x20 && c < 0x7F && c != '"' && c != '\\';
      constexpr const char* digits = "0123456789ABCDEF";
      if (plain)
        out << c;
      else
        out << "\\x" << digits[static_cast<unsigned char>(c) >> 4] << digits[c & 15];
    }
    out << "\"\n";
  }
  static std::vector<char*> all(*arguments, *arguments + *count);
  all.push_back(option.data());
  all.push_back(nullptr);
  *arguments = all.data();
  ++*count;
  return 0;
}
#endif

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
