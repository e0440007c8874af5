// The case file in words, from the list of keys.
#pragma once

#include <string>
#include <vector>

namespace tabmelt {

// How to write a case, and every key with its meaning, range and default.
std::string explain_all();
// One key ("strip.thickness"), one table ("strip"), or one name wherever it occurs ("thickness");
// or a word of the glossary ("stick weld"); for an unknown word the nearest known one.
std::string explain(const std::string& key);

// Every word that explain() knows, without blanks, for completion in a shell.
std::vector<std::string> explained_words();

// A short commented case of a usual weld, ready to run.
std::string template_case();

}  // namespace tabmelt
