// What several tables of keys share: defaults of a real welder, which a prescribed current and a
// pure check do without, and conditions in words.
#pragma once

#include <algorithm>

#include "io/case/schema.h"

namespace tabmelt::schema {

inline Condition for_banks() {
  return {[](const Draft& d) { return d.bank_kind(); },
          "source.kind is \"capacitor bank\" or \"supercapacitor\""};
}

inline Condition for_a_pair() {
  return {[](const Draft& d) { return d.side_by_side(); }, "arrangement.kind = \"side by side\""};
}

// What hangs on another key, itself of use only `within` a condition.
inline Condition if_given(const std::string& key, const Condition& within) {
  return {[=](const Draft& d) { return within.holds(d) && d.is_given(key); }, key + " is given"};
}

// A word of a choice, and what it stands for. The lists of words are short, and hold all meanings.
template <typename Meaning>
struct Word {
  const char* word;
  Meaning meaning;
};

template <typename Meaning, std::size_t n>
std::vector<std::string> words_of(const Word<Meaning> (&list)[n]) {
  std::vector<std::string> words;
  for (const Word<Meaning>& one : list) words.emplace_back(one.word);
  return words;
}

template <typename Meaning, std::size_t n>
Meaning meant(const Word<Meaning> (&list)[n], const std::string& word) {
  return std::ranges::find(list, word, &Word<Meaning>::word)->meaning;
}

template <typename Meaning, std::size_t n>
const char* word_for(const Word<Meaning> (&list)[n], Meaning meaning) {
  return std::ranges::find(list, meaning, &Word<Meaning>::meaning)->word;
}

using Rule = std::function<std::optional<Standard>(const Draft&)>;

// Left unset in all other cases.
inline Rule where(const std::function<bool(const Draft&)>& holds, const Standard& standard) {
  return [=](const Draft& d) { return holds(d) ? std::optional(standard) : std::nullopt; };
}

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
