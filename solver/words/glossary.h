// The words that verdicts, reports and pictures use, each with its meaning, once. `tabmelt
// explain`, the report and the manual page read them here.
//
// Words marked below are terms of ISO 17677-1 (resistance welding, vocabulary) or ISO 669; from
// memory, not checked against the standards. The others are plain English.
#pragma once

#include <string>
#include <vector>

namespace tabmelt {

struct Term {
  std::string word;                    // "stick weld"
  std::string meaning;                 // one or two sentences
  std::vector<std::string> also = {};  // other names: the key of a verdict, synonyms
};

const std::vector<Term>& glossary();

// By word or other name; upper and lower case, '-', '_' and blanks count as the same. Null if there
// is none.
const Term* find_term(const std::string& word);

}  // namespace tabmelt
