// Dotted paths of keys, "contact.tip.law", and the blanks around what people type.
#pragma once

#include <string>
#include <string_view>

namespace tabmelt {

// "contact.tip"; empty at the top of the file.
inline std::string table_of(const std::string& path) {
  const auto dot = path.rfind('.');
  return dot == std::string::npos ? "" : path.substr(0, dot);
}

// "law"
inline std::string name_of(const std::string& path) { return path.substr(path.rfind('.') + 1); }

inline std::string joined_path(const std::string& table, std::string_view name) {
  return table.empty() ? std::string(name) : table + "." + std::string(name);
}

inline std::string trimmed(const std::string& text, const char* blanks = " \t\r\n") {
  const auto first = text.find_first_not_of(blanks);
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

}  // namespace tabmelt
