// The case file in words, from the list of keys.
#pragma once

#include <string>

namespace tabmelt {

// How to write a case, and every key with its meaning, range and default.
std::string explain_all();
// One key ("strip.thickness"), one table ("strip"), or one name wherever it occurs ("thickness");
// for an unknown word the nearest known one.
std::string explain(const std::string& key);

// A short commented case of a usual weld, ready to run.
std::string template_case();

}  // namespace tabmelt
