// What several tables of keys share: defaults of a real welder, which a prescribed current and a
// pure check do without, and conditions in words.
#pragma once

#include "io/case/schema.h"

namespace tabmelt::schema {

inline constexpr const char* bank_or_supercapacitor =
    "source.kind is \"capacitor bank\" or \"supercapacitor\"";

using Rule = std::function<std::optional<Standard>(const Draft&)>;

// `nothing` where the current is prescribed or the case is a pure check.
inline Rule usual(const Standard& real, const std::string& nothing) {
  return [real, nothing](const Draft& d) -> std::optional<Standard> {
    if (d.prescribed()) return Standard{nothing, "the current is prescribed: does not count"};
    if (!d.has_cell()) return Standard{nothing, "pure check without [cell]: nothing is added"};
    return real;
  };
}

inline std::string in_words(const Standard& real, const std::string& nothing) {
  return real.value + "; " + nothing + " for a prescribed current or without [cell]";
}

}  // namespace tabmelt::schema
