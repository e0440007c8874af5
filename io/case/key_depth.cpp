#include "io/case/key_depth.h"

#include <algorithm>
#include <cstddef>

namespace tabmelt {
namespace {

// Length of the quoted text that begins here; up to the end of the line, or of the text, if nothing
// closes it.
std::size_t quoted_length(std::string_view text) {
  const char quote = text[0];
  const bool many_lines = text.size() >= 3 && text[1] == quote && text[2] == quote;
  const std::size_t mark = many_lines ? 3 : 1;
  for (std::size_t n = mark; n < text.size(); ++n) {
    if (!many_lines && text[n] == '\n') return n;
    if (quote == '"' && text[n] == '\\')
      ++n;
    else if (text.substr(n, mark) == text.substr(0, mark))
      return n + mark;
  }
  return text.size();
}

}  // namespace

int line_of_too_deep_key(std::string_view text) {
  int line = 1, parts = 1;
  while (!text.empty()) {
    std::size_t length = 1;
    const char c = text[0];
    if (c == '"' || c == '\'') {
      length = quoted_length(text);
    } else if (c == '#') {
      length = std::min(text.find('\n'), text.size());
    } else if (c == '.') {
      if (++parts > most_key_parts) return line;
    } else if (c == '\n' || c == '=' || c == ',' || c == '{' || c == '[') {
      parts = 1;
    }
    const std::string_view passed = text.substr(0, length);
    line += static_cast<int>(std::count(passed.begin(), passed.end(), '\n'));
    text.remove_prefix(length);
  }
  return 0;
}

}  // namespace tabmelt
