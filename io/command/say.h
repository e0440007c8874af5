// The one way to standard output and standard error for text that is more than our own words.
#pragma once

#include <cstdio>
#include <string>

namespace tabmelt::command {

// Writes text in lines, made safe to print (solver/words/printable.h), and flushes.
void say(std::FILE* stream, const std::string& text);

// Opens what is closed of standard input, output and error on nothing, so that no file that is
// opened later takes its number and what is meant for a person. To be called before anything is
// opened.
void hold_standard_descriptors();

}  // namespace tabmelt::command
