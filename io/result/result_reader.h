// Reads a result file (finished or part) back. If the run was killed in the middle of a commit, the
// commit is carried out in memory; the file is not touched. Lists of a part file are trimmed to the
// shortest, and frames that do not decode are dropped from the end. Frames, and the history of
// single cells, are read on demand; the file is not kept open between reads.
//
// Throws ResultFileError that names the file and what is wrong with it: missing, not HDF5,
// truncated, in use by a run, of another program, of an older or newer layout, damaged, without
// frames.
//
// HDF5 1.10 does not survive every damage: a lost block of its own tables can make it loop. Whoever
// reads files that may be damaged without a person watching needs a process and a time limit.
#pragma once

#include <filesystem>
#include <stdexcept>

#include "solver/result/stored_run.h"

namespace tabmelt {

class ResultFileError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

StoredRun read_result_file(const std::filesystem::path& file);

}  // namespace tabmelt
