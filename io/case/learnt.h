// Values and spreads that were found from measurements and test welds, in a file of their own which
// a case takes by name:
//
//   learnt = "mine.learnt.toml"          at the top of the case
//
//   about = "fitted to pulse.csv"        in that file
//   [[learnt]]
//   key = "source.part_esr"
//   value = "8.12 mohm"
//   spread = "normal 0.11 mohm"          as spread.<key> of a case; may be left out
//
// They replace what the case says itself; --set replaces both.
#pragma once

#include <toml++/toml.h>

#include <filesystem>
#include <string>
#include <vector>

#include "io/case/complaint_log.h"
#include "io/case/read_case.h"

namespace tabmelt {

// Adds complaints to the log: keys that are none, values without text. Throws InputError if the
// file is missing or not understood as TOML.
Learnt read_learnt(const std::filesystem::path& file, ComplaintLog&);

std::string learnt_text(const Learnt&);

// The text of a case that takes the file by this name instead of any other.
std::string taking_learnt(const std::string& case_text, const std::string& name);

}  // namespace tabmelt
