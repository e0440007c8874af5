// Reads a result file (finished or part) back. Frames, and the history of single cells, are read on
// demand, from the file as it was when it was opened.
//
// Throws ResultFileError that names the file and what is wrong with it: missing, not HDF5,
// truncated, of another program, of an older or newer layout, damaged, without frames. It is
// read in a process of its own (io/store/reading_process.h), which ends with the last copy of the
// run, so no file can crash this one or hold it up for ever; and what comes back is checked: lists
// fit each other, edges and times rise, fields hold numbers of at most 1e20. Title, verdict and
// names of regions come back safe to print, cut to 500 bytes.
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
