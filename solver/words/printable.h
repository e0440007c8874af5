// Text that may come from anywhere, made safe to print. What steers a terminal or the direction of
// reading becomes a space: control characters (C0, DEL, C1), line and paragraph separators, marks,
// embeddings and isolates of direction (Unicode Standard Annex 9). A byte that is not part of sound
// UTF-8 becomes "?". Everything else stays as it is.
#pragma once

#include <string>
#include <string_view>

namespace tabmelt {

std::string printable(std::string_view line);
// The same, but line ends stay.
std::string printable_lines(std::string_view text);

// Whether there is a control character (C0, DEL or C1) in it.
bool holds_control_characters(std::string_view text);

}  // namespace tabmelt
