// A case with what was learnt: the text of the case as it stands, taking a second file beside it
// that holds values and spreads.
#pragma once

#include <filesystem>
#include <string>

#include "io/case/read_case.h"
#include "io/command/studies/session.h"

namespace tabmelt::command {

// Before anything is computed: throws InputError if the file is there already, or is the case.
void refuse_to_replace(const std::filesystem::path& file, const std::string& asked_case);

// FILE and, beside it, FILE's name with .learnt.toml, which also holds the settings laid over the
// case, and what an earlier file knew besides. Throws OutputError, and InputError if the two do not
// read back as a case.
void write_learnt_case(Session&, const std::filesystem::path& file, const Learnt&);

}  // namespace tabmelt::command
