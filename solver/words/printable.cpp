#include "solver/words/printable.h"

#include <cstddef>
#include <cstdint>

namespace tabmelt {
namespace {

struct Character {
  std::uint32_t code = 0;
  std::size_t bytes = 1;
  bool sound = false;
};

std::uint32_t byte_at(std::string_view text, std::size_t n) {
  return static_cast<unsigned char>(text[n]);
}

// The character that the text begins with; UTF-8 as in RFC 3629.
Character first_character(std::string_view text) {
  const std::uint32_t lead = byte_at(text, 0);
  if (lead < 0x80) return {lead, 1, true};
  const std::size_t bytes = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < bytes) return {};
  std::uint32_t code = lead & (0x7FU >> bytes);
  for (std::size_t n = 1; n < bytes; ++n) {
    if ((byte_at(text, n) & 0xC0) != 0x80) return {};
    code = code << 6 | (byte_at(text, n) & 0x3F);
  }
  constexpr std::uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  if (code < least[bytes] || code > 0x10FFFF || surrogate) return {};
  return {code, bytes, true};
}

bool is_control(std::uint32_t c) { return c < 0x20 || (c >= 0x7F && c <= 0x9F); }

bool steers(std::uint32_t c) {
  return is_control(c) || c == 0x061C || c == 0x200E || c == 0x200F ||
         (c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
}

std::string cleaned(std::string_view text, bool keep_line_ends) {
  std::string result;
  result.reserve(text.size());
  while (!text.empty()) {
    const Character c = first_character(text);
    if (!c.sound)
      result += '?';
    else if (steers(c.code) && !(keep_line_ends && c.code == '\n'))
      result += ' ';
    else
      result += text.substr(0, c.bytes);
    text.remove_prefix(c.bytes);
  }
  return result;
}

}  // namespace

std::string printable(std::string_view line) { return cleaned(line, false); }

std::string printable_lines(std::string_view text) { return cleaned(text, true); }

bool holds_control_characters(std::string_view text) {
  while (!text.empty()) {
    const Character c = first_character(text);
    if (c.sound && is_control(c.code)) return true;
    text.remove_prefix(c.bytes);
  }
  return false;
}

}  // namespace tabmelt
